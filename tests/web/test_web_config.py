"""Settings come from the environment, and bad ones are told all at once."""

from __future__ import annotations

from dataclasses import fields

import pytest

from flankwise_service import config
from flankwise_service.config import BadSettings, Settings


def test_an_empty_environment_gives_the_defaults() -> None:
    assert Settings.from_environment({}) == Settings()


def test_the_process_environment_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_LOOKUP_AGE", "60")
    assert Settings.from_environment().lookup_age == 60


@pytest.mark.parametrize(("text", "value"), [("yes", True), ("0", False), ("False", False)])
def test_yes_and_no(text: str, value: bool) -> None:
    assert Settings.from_environment({"FLANKWISE_ACCESS_LOG": text}).access_log is value


def test_every_bad_setting_is_named() -> None:
    with pytest.raises(BadSettings) as caught:
        Settings.from_environment(
            {
                "FLANKWISE_BODY_CAP": "1 MB",
                "FLANKWISE_DEPTH_CAP": "3",
                "FLANKWISE_ACCESS_LOG": "perhaps",
                "FLANKWISE_QUERY_CAP": "500",
            }
        )
    said = str(caught.value)
    for name in ("BODY_CAP", "DEPTH_CAP", "ACCESS_LOG"):
        assert f"FLANKWISE_{name}=" in said
    assert "QUERY_CAP" not in said


def test_every_setting_can_be_read() -> None:
    assert {setting.name for setting in fields(Settings)} == set(config._READERS)
