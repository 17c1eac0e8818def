"""Schemas of the uses of threads: identify, mating, plating, strength."""

from __future__ import annotations

from flankwise_service.core.threads.identify import MOST_CANDIDATES
from flankwise_service.core.threads.plating import CEILINGS
from flankwise_service.web import fields
from flankwise_service.web.schemas.common import SourceReply
from flankwise_service.web.schemas.threads import FAMILIES, SIDES, designation_field

_RUNS = ("always free", "may bind", "always binds", "not limited")


def _sources() -> fields.ListOf:
    return fields.ListOf(fields.Nested(SourceReply, "One source"), "Where the figures come from")


def _thread(which: str, example: str) -> fields.Text:
    return fields.Text(
        f"Designation of the {which} thread, with its class where its standard has one",
        shortest=1,
        longest=60,
        example=example,
    )


class IdentifyQuery(fields.Schema):
    """What was measured on an unknown thread."""

    crest_diameter = fields.Length(
        "Measured over the crests: major diameter outside, minor diameter inside", example=0.87
    )
    side = fields.OneOf("External or internal", SIDES)
    unit = fields.Unit()
    pitch = fields.Length("Measured pitch; else threads_per_inch", greatest=60.0, default=None)
    threads_per_inch = fields.Number(
        "Counted threads per inch; else pitch", least=0.5, greatest=500.0, default=None, example=14
    )
    diameter_uncertainty = fields.Length(
        "Half width of the range the true crest diameter lies in", least=0.0, greatest=5.0
    )
    pitch_uncertainty = fields.Length(
        "Half width of the range the true pitch lies in; at most a fifth of it",
        least=0.0,
        greatest=10.0,
    )
    most = fields.Count(
        "How many candidates at most", least=1, greatest=MOST_CANDIDATES, default=10
    )


class DifferenceReply(fields.Schema):
    """What would tell a candidate from the first one."""

    by = fields.OneOf(
        "What to look at", ("flank angle", "taper", "pitch", "starts", "crest diameter", "name")
    )
    words = fields.Text("How", longest=400)


class CandidateReply(fields.Schema):
    """A thread that the measurement could be."""

    designation = fields.Text("The thread, without class")
    family = fields.OneOf("Family of threads", FAMILIES)
    series = fields.Text("Series within the family")
    pitch = fields.Length("Its pitch")
    threads_per_inch = fields.Number("Its threads per inch")
    pitch_difference = fields.Number("Measured less its pitch")
    crest_min = fields.Length("Least crest over all its classes; along the taper where it has one")
    crest_max = fields.Length("Greatest crest over all its classes")
    outside_by = fields.Length("How far the measured crest lies outside these")
    misfit = fields.Number("0 where pitch and crest agree within the uncertainties")
    agrees = fields.Flag("Whether they do")
    included_angle = fields.Angle("Angle between the flanks")
    taper = fields.Number("Change of diameter for one unit of length; 0 when parallel")
    tells_apart = fields.ListOf(
        fields.Nested(DifferenceReply, "One difference"), "What tells it from the first candidate"
    )


class IdentifyReply(fields.Schema):
    """Candidates, likeliest first."""

    unit = fields.Unit("Unit of every length here")
    candidates = fields.ListOf(
        fields.Nested(CandidateReply, "One candidate"), "Candidates; empty where none is near"
    )


class MatingQuery(fields.Schema):
    """Two threads to put together."""

    external = _thread("external", "7/8-14 UNF-2A")
    internal = _thread("internal", "7/8-14 UNF-2B")
    unit = fields.Unit()


class ObstacleReply(fields.Schema):
    """Why two threads can't go together."""

    code = fields.Text("Kind of obstacle, fixed")
    words = fields.Text("The obstacle in words", longest=300)


class ClearanceReply(fields.Schema):
    """Internal less external diameter; negative is interference."""

    least = fields.Number("Least clearance, null where a standard sets no limit", nullable=True)
    greatest = fields.Number("Greatest clearance", nullable=True)
    runs = fields.OneOf("How it runs", _RUNS)


class MatingReply(fields.Schema):
    """What happens when the two are screwed together."""

    external = fields.Text("External thread in its canonical spelling")
    internal = fields.Text("Internal thread in its canonical spelling")
    unit = fields.Unit("Unit of every length here")
    mates = fields.Flag("Whether they can go together")
    obstacles = fields.ListOf(fields.Nested(ObstacleReply, "One obstacle"), "Why not")
    pitch_diameter = fields.Nested(ClearanceReply, "On the pitch diameter, which decides the fit")
    major_diameter = fields.Nested(ClearanceReply, "On the major diameter")
    minor_diameter = fields.Nested(ClearanceReply, "On the minor diameter")
    least_overlap = fields.Number("Least radial overlap of the flanks", nullable=True)
    greatest_overlap = fields.Number("Greatest radial overlap", nullable=True)
    least_overlap_percent = fields.Number(
        "Least overlap in percent of the basic profile's own", nullable=True
    )
    greatest_overlap_percent = fields.Number("Greatest, likewise", nullable=True)
    least_percent_of_thread = fields.Number(
        "Least percent of thread as the trade counts it at 60 degrees (100 is 1.299 pitches on "
        "the diameter)",
        nullable=True,
    )
    greatest_percent_of_thread = fields.Number("Greatest, likewise", nullable=True)
    sources = _sources()


class ClassPairsQuery(fields.Schema):
    """Which size's classes to pair."""

    designation = designation_field()
    unit = fields.Unit()


class ClassPairReply(fields.Schema):
    """Clearance on the pitch diameter of one pair of classes."""

    external_class = fields.Text("Class of the external thread")
    internal_class = fields.Text("Class of the internal thread")
    least = fields.Number("Least clearance", nullable=True)
    greatest = fields.Number("Greatest clearance", nullable=True)
    runs = fields.OneOf("How it runs", _RUNS)


class ClassPairsReply(fields.Schema):
    """Every pair of classes of one size."""

    unit = fields.Unit("Unit of every length here")
    pairs = fields.ListOf(fields.Nested(ClassPairReply, "One pair"), "Pairs", most=2000)


class PlatingQuery(fields.Schema):
    """A thread to be coated, and the coat."""

    designation = designation_field()
    unit = fields.Unit()
    side = fields.OneOf(
        "External or internal; needed where the designation doesn't say it", SIDES, default=None
    )
    least_thickness = fields.Length("Thinnest coat per side", least=0.0, greatest=3.0)
    greatest_thickness = fields.Length("Thickest coat per side", least=0.0, greatest=3.0)
    ceiling = fields.OneOf(
        "Maximum material after coating: the basic size (the class's allowance is used up), or "
        "the class's own limit",
        CEILINGS,
        default="basic size",
    )


class SizeRangeReply(fields.Schema):
    """A pair of sizes; null where the standard sets none."""

    min = fields.Number("Least", nullable=True)
    max = fields.Number("Greatest", nullable=True)


class ThreadSizesReply(fields.Schema):
    """The three diameters of a thread."""

    major_diameter = fields.Nested(SizeRangeReply, "Major diameter")
    pitch_diameter = fields.Nested(SizeRangeReply, "Pitch diameter")
    minor_diameter = fields.Nested(SizeRangeReply, "Minor diameter")


class PlatingReply(fields.Schema):
    """What to cut, and what the coat makes of it."""

    unit = fields.Unit("Unit of every length here")
    side = fields.OneOf("External or internal", SIDES)
    pitch_diameter_factor = fields.Number(
        "Change of pitch diameter over thickness; 4 at 60 degrees"
    )
    before = fields.Nested(ThreadSizesReply, "Limits to cut to, before coating")
    after = fields.Nested(ThreadSizesReply, "Limits the coated thread must keep")
    greatest_thickness_uncut = fields.Length(
        "Thickest coat that a thread cut to its class limits takes"
    )
    fits_uncut = fields.Flag("Whether the class's own allowance takes this coat")
    pitch_tolerance_left = fields.Length("Pitch diameter tolerance that remains for cutting")
    sources = _sources()


class StrengthQuery(fields.Schema):
    """A joint and its materials."""

    external = _thread("external", "M10-6g")
    internal = _thread("internal", "M10-6H")
    unit = fields.Unit()
    engagement = fields.Length("Length of engagement of complete threads")
    external_strength = fields.Number(
        "Ultimate tensile strength of the external part, in any unit of stress; loads come out "
        "in it times the unit of length squared (psi with in: lbf; MPa with mm: N)",
        least=0.01,
        greatest=1e7,
    )
    internal_strength = fields.Number(
        "Ultimate tensile strength of the internal part, in the same unit",
        least=0.01,
        greatest=1e7,
    )


class StrengthReply(fields.Schema):
    """Areas, loads and lengths of one joint."""

    unit = fields.Unit("Unit of every length here; areas are in its square")
    tensile_stress_area = fields.Number("Tensile stress area of the external thread, unit squared")
    external_shear_area = fields.Number("Shear area of the external thread over the engagement")
    internal_shear_area = fields.Number("Shear area of the internal thread over the engagement")
    breaking_load = fields.Number("Load that breaks the external part")
    external_stripping_load = fields.Number("Load that strips the external thread")
    internal_stripping_load = fields.Number("Load that strips the internal thread")
    weakest = fields.OneOf(
        "What gives way first",
        ("external part breaks", "external thread strips", "internal thread strips"),
    )
    least_engagement = fields.Length(
        "Engagement at which the external part breaks before either thread strips"
    )
    engagement = fields.Length("Engagement asked about")
    engagement_is_enough = fields.Flag("Whether it is that long")
    sources = _sources()
    cautions = fields.ListOf(fields.Text("One caution", longest=300), "What to mind")
