"""The files a shop installs by: valid by their own tools, least rights, everything pinned."""

from __future__ import annotations

import json
import re
import subprocess
from dataclasses import fields
from pathlib import Path
from typing import Any

import kubernetes_validate
import pytest
import tomllib
import yaml

from flankwise_service.config import PREFIX, Settings
from support.proxy import adapted, nginx_or_skip, tls_lines, within
from support.server import ROOT, free_port

DEPLOY = ROOT / "deploy"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
VERSION = PROJECT["project"]["version"]
MANIFESTS: dict[str, dict[str, Any]] = {
    document["kind"]: document
    for path in sorted((DEPLOY / "kubernetes").glob("*.yaml"))
    for document in yaml.safe_load_all(path.read_text("utf-8"))
}
COMPOSE: dict[str, Any] = yaml.safe_load((DEPLOY / "compose.yaml").read_text("utf-8"))
DOCKERFILE = (DEPLOY / "Dockerfile").read_text("utf-8")


def plain(name: str) -> str:
    """Return the name of a package as the index spells it."""
    return re.sub(r"[-_.]+", "-", re.split(r"[<>=!~\[; ]", name)[0]).lower()


def pins(name: str) -> dict[str, str]:
    """Return packages and versions of a file of pins; every one must carry a hash."""
    text = (DEPLOY / "pins" / name).read_text("utf-8").replace("\\\n", " ")
    found = {}
    for line in text.splitlines():
        package, _, rest = line.partition("==")
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", rest), line
        found[plain(package)] = rest.split()[0]
    return found


# -- pins and the bill of materials


def test_the_service_pins_what_it_asks_for() -> None:
    asked = [
        *PROJECT["project"]["dependencies"],
        *PROJECT["project"]["optional-dependencies"]["service"],
        *PROJECT["build-system"]["requires"],
    ]
    assert {plain(name) for name in asked} - pins("service.txt").keys() == set()


def test_the_check_pins_all_and_the_same_versions_as_the_service() -> None:
    asked = [
        name for names in PROJECT["project"]["optional-dependencies"].values() for name in names
    ]
    check, service = pins("check.txt"), pins("service.txt")
    assert {plain(name) for name in asked} - check.keys() == set()
    assert service.items() <= check.items()


def test_the_wheel_is_built_by_what_the_project_says() -> None:
    lines = (DEPLOY / "pins" / "build.in").read_text("utf-8").splitlines()
    assert [x for x in lines if not x.startswith("#")] == PROJECT["build-system"]["requires"]


def test_the_bill_of_materials_lists_exactly_the_pins() -> None:
    text = (DEPLOY / "sbom.json").read_text("utf-8")
    bill = json.loads(text)
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
    listed = {plain(one["name"]): one["version"] for one in bill["components"]}
    assert listed == pins("service.txt")
    assert len(listed) == len(bill["components"])
    for one in bill["components"]:
        assert one["purl"] == f"pkg:pypi/{plain(one['name'])}@{one['version']}"
        (distribution,) = one["externalReferences"]
        for one_hash in distribution["hashes"]:
            assert one_hash["alg"] == "SHA-256"
    root = bill["metadata"]["component"]
    assert (root["name"], root["version"]) == ("flankwise", VERSION)
    refs = {one["bom-ref"] for one in bill["components"]}
    (direct,) = bill["dependencies"]
    assert direct["ref"] == root["bom-ref"]
    assert set(direct["dependsOn"]) < refs
    # Made twice it is the same text.
    assert "timestamp" not in bill["metadata"]
    assert "serialNumber" not in bill


def test_the_hashes_of_the_bill_are_those_of_the_pins() -> None:
    text = (DEPLOY / "pins" / "service.txt").read_text("utf-8")
    bill = json.loads((DEPLOY / "sbom.json").read_text("utf-8"))
    told = [
        one_hash["content"]
        for one in bill["components"]
        for distribution in one["externalReferences"]
        for one_hash in distribution["hashes"]
    ]
    assert sorted(told) == sorted(re.findall(r"sha256:([0-9a-f]{64})", text))


# -- kubernetes


@pytest.mark.parametrize("document", MANIFESTS.values(), ids=MANIFESTS)
def test_kubernetes_takes_the_manifest(document: dict[str, Any]) -> None:
    newest = kubernetes_validate.latest_version()
    kubernetes_validate.validate(document, newest, strict=True)


def test_kubernetes_would_refuse_a_misspelt_manifest() -> None:
    deployment = MANIFESTS["Deployment"]
    wrong = {**deployment, "spec": {**deployment["spec"], "replica": 2}}
    with pytest.raises(kubernetes_validate.ValidationError):
        kubernetes_validate.validate(wrong, kubernetes_validate.latest_version(), strict=True)


def test_a_pod_has_no_rights_beyond_answering() -> None:
    deployment = MANIFESTS["Deployment"]
    pod = deployment["spec"]["template"]["spec"]
    assert pod["automountServiceAccountToken"] is False
    assert pod["enableServiceLinks"] is False
    assert pod["securityContext"]["runAsNonRoot"] is True
    assert pod["securityContext"]["seccompProfile"] == {"type": "RuntimeDefault"}
    (container,) = pod["containers"]
    rights = container["securityContext"]
    assert rights["allowPrivilegeEscalation"] is False
    assert rights["readOnlyRootFilesystem"] is True
    assert rights["capabilities"] == {"drop": ["ALL"]}
    assert container["resources"]["limits"]["memory"]
    assert container["image"].endswith(f":{VERSION}")
    assert pod["securityContext"]["runAsUser"] == int(user_of_the_image())
    for probe in ("startupProbe", "readinessProbe", "livenessProbe"):
        assert container[probe]["httpGet"]["path"] in ("/readyz", "/livez")


def test_the_manifest_says_what_belongs_in_front() -> None:
    text = (
        (DEPLOY / "kubernetes" / "flankwise.yaml").read_text("utf-8").partition("\napiVersion")[0]
    )
    for word in ("request\n# buffering", "deploy/proxy/nginx.conf", "256 MB"):
        assert word in text


def test_every_label_that_selects_is_carried_by_the_pods() -> None:
    by_kind = MANIFESTS
    labels = by_kind["Deployment"]["spec"]["template"]["metadata"]["labels"].items()
    assert by_kind["Deployment"]["spec"]["selector"]["matchLabels"].items() <= labels
    assert by_kind["Service"]["spec"]["selector"].items() <= labels
    assert by_kind["PodDisruptionBudget"]["spec"]["selector"]["matchLabels"].items() <= labels
    assert by_kind["NetworkPolicy"]["spec"]["podSelector"]["matchLabels"].items() <= labels
    scaled = by_kind["HorizontalPodAutoscaler"]["spec"]["scaleTargetRef"]["name"]
    assert scaled == by_kind["Deployment"]["metadata"]["name"]


# -- containers


def user_of_the_image() -> str:
    (user,) = re.findall(r"^USER (\d+):\d+$", DOCKERFILE, re.MULTILINE)
    return str(user)


def test_the_image_runs_unprivileged_from_pinned_parts() -> None:
    assert int(user_of_the_image()) >= 1000
    last = DOCKERFILE[DOCKERFILE.rindex("\nFROM ") :]
    assert last.index("USER ") < last.index("ENTRYPOINT [")
    bases = re.findall(r"^ARG BASE=(\S+)$", DOCKERFILE, re.MULTILINE)
    assert len(bases) == 1
    assert re.fullmatch(r"[\w./-]+:\d+\.\d+[\w.-]*", bases[0])
    assert set(re.findall(r"^FROM (\S+)", DOCKERFILE, re.MULTILINE)) == {"${BASE}"}
    installs = re.findall(r"pip install ([^&\n]+)", DOCKERFILE.replace("\\\n", " "))
    assert len(installs) == 2
    for install in installs:
        assert "--no-deps" in install, install
    assert "--require-hashes" in installs[0]
    assert "RUN apt" not in DOCKERFILE
    assert "/readyz" in DOCKERFILE


def test_the_image_copies_only_what_is_there() -> None:
    for sources in re.findall(r"^COPY (?!--from)(.+) \S+$", DOCKERFILE, re.MULTILINE):
        for source in sources.split():
            assert (ROOT / source).exists(), source


def test_compose_hardens_both_of_its_services() -> None:
    service, proxy = COMPOSE["services"]["service"], COMPOSE["services"]["proxy"]
    assert service["image"] == f"flankwise:{VERSION}"
    assert service["read_only"] is proxy["read_only"] is True
    assert service["cap_drop"] == ["ALL"]
    assert service["security_opt"] == ["no-new-privileges:true"]
    assert "ports" not in service, "only the proxy is reached from outside"
    assert re.search(r":\d+\.\d+", proxy["image"])
    assert COMPOSE["networks"]["nowhere"] == {"internal": True}
    assert service["networks"] == ["nowhere"]
    assert proxy["networks"] == ["outside"]
    for one in (service, proxy):
        assert one["security_opt"] == ["no-new-privileges:true"]
        assert one["cap_drop"] == ["ALL"]
    door = "door:/run/flankwise"
    assert service["volumes"] == [door]
    assert COMPOSE["volumes"] == {"door": {}}
    for volume in proxy["volumes"]:
        source, _, rest = volume.partition(":")
        assert rest.endswith(":ro")
        assert source == "door" or (DEPLOY / source).is_file()
    context = (DEPLOY / service["build"]["context"]).resolve()
    assert (context / service["build"]["dockerfile"]) == DEPLOY / "Dockerfile"


def test_every_setting_that_is_named_is_one() -> None:
    known = {PREFIX + setting.name.upper() for setting in fields(Settings)}
    given = {
        "compose": COMPOSE["services"]["service"]["environment"],
        "image": re.findall(r"\b(FLANKWISE_[A-Z_]+)=", DOCKERFILE),
        "unit": re.findall(
            r"\b(FLANKWISE_[A-Z_]+)=", (DEPLOY / "systemd" / "flankwise.service").read_text()
        ),
        "pod": [
            one["name"]
            for one in MANIFESTS["Deployment"]["spec"]["template"]["spec"]["containers"][0]["env"]
        ],
    }
    for where, names in given.items():
        assert names, where
        assert set(names) <= known, where


# -- the proxy


def nginx_says(settings: str, folder: Path) -> str:
    (folder / "nginx.conf").write_text(settings, "utf-8")
    found = subprocess.run(
        [nginx_or_skip(), "-t", "-e", "stderr", "-p", str(folder), "-c", str(folder / "nginx.conf")],
        capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert found.returncode == 0, found.stderr
    return found.stderr


def settings(folder: Path) -> str:
    text = (DEPLOY / "proxy" / "nginx.conf").read_text("utf-8")
    return adapted(text, folder, free_port(), ["http://127.0.0.1:8000"], None)


def test_nginx_takes_the_settings_of_the_proxy(tmp_path: Path) -> None:
    assert "[warn]" not in nginx_says(settings(tmp_path), tmp_path)


def test_nginx_takes_the_settings_with_tls(tmp_path: Path) -> None:
    whole = within(settings(tmp_path), tls_lines(tmp_path, free_port()))
    assert "[warn]" not in nginx_says(whole, tmp_path)
