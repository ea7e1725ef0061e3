"""The list of photos: three cores of one type, what was photographed, when and how.

The same part_seed is the same piece of metal, whatever the seed of the photo; the latter
draws bench, light and noise. So a pair found/cleaned shows one part twice."""

from dataclasses import dataclass

import flank_scenes
import flat_scenes
import parts
import shaft_scenes
from orientation import TURN_LEFT, TURN_RIGHT, UPRIGHT, UPSIDE_DOWN

FOUND, CLEANED = "found", "cleaned"


@dataclass(frozen=True)
class Shot:
    """One photo. place and surface are ids of the specs ("" for a whole part); damage names
    what the part carries, marked whether it is outlined in the index. taken is local time;
    zone "" leaves the time zone out of the EXIF data, as older cameras do."""

    name: str
    scene: object
    core: str
    place: str
    surface: str
    stage: str
    part_seed: int
    seed: int
    taken: str
    label: str = ""
    damage: tuple = ()
    orientation: int = UPRIGHT
    size: tuple = (1600, 1200)  # of the stored file
    zone: str = "+01:00"
    bench: str = "wood"
    light: str = "both"
    windows: float = 60.0  # where the windows are: 90 is behind the bench
    tilt: float = 36.0  # degrees from the vertical
    yaw: float = 0.0  # how the part is turned on the bench
    roll: float = 0.0  # how crooked the phone is held
    focal: int = 26
    stops: float = 0.1
    aperture_mm: float = 1.1
    rule_at: tuple = (-70, -82)
    rule_turn: float = 2.0
    note_at: tuple = (28, 66)
    note_turn: float = -4.0

    @property
    def design(self):
        return parts.TW4_C if self.core == "40508" else parts.TW4_B

    @property
    def marked(self):
        """Under the oil of a part as found nobody can outline anything."""
        return self.stage == CLEANED


def _core_1():
    shaft = dict(core="40117", place="input-shaft", part_seed=1010, damage=("rust-pits",), label="40117  input shaft")
    yield Shot(
        "40117-input-shaft-found", shaft_scenes.input_shaft, surface="", stage=FOUND, seed=1001, yaw=-7, stops=0.35,
        size=(2000, 1500), taken="2026-05-12 09:42:17", **shaft,
    )  # fmt: skip
    yield Shot(
        "40117-input-shaft-cleaned", shaft_scenes.input_shaft, surface="", stage=CLEANED, seed=1002, yaw=94,
        orientation=TURN_RIGHT, bench="mat", tilt=30, taken="2026-05-12 14:05:51",
        rule_at=(-75, -78), note_at=(-108, 62), windows=20, **shaft,
    )  # fmt: skip
    yield Shot(
        "40117-input-shaft-cone", shaft_scenes.cone_close, surface="cone", stage=CLEANED, seed=1003, yaw=-3, focal=52,
        tilt=33, bench="mat", windows=100, stops=-0.2, taken="2026-05-12 14:09:33", **shaft,
    )  # fmt: skip
    yield Shot(
        "40117-third-gear-flank", flank_scenes.third_gear_flank, core="40117", place="gear-3", surface="flanks",
        stage=CLEANED, part_seed=1020, seed=1004, yaw=4, focal=52, tilt=30, windows=-99, damage=("fatigue-pits",),
        taken="2026-05-12 14:21:08",
    )  # fmt: skip
    yield Shot(
        "40117-thrust-washer-front", flat_scenes.thrust_washer, core="40117", place="thrust-washer-front",
        surface="thrust-face", stage=CLEANED, part_seed=1030, seed=1005, yaw=8, orientation=TURN_LEFT, tilt=20,
        damage=("scoring",), label="40117  thrust washer", taken="2026-05-12 14:34:40",
    )  # fmt: skip
    # This one was taken with an older camera that writes no time zone.
    yield Shot(
        "40117-top-cover-found", flat_scenes.top_cover, core="40117", place="top-cover", surface="joint-face",
        stage=FOUND, part_seed=1040, seed=1006, yaw=-5, tilt=30, windows=120, label="40117  top cover", zone="",
        taken="2026-05-12 10:02:12", note_turn=5,
    )  # fmt: skip


def _core_2():
    yield Shot(
        "40342-input-shaft-found", shaft_scenes.input_shaft, core="40342", place="input-shaft", surface="", stage=FOUND,
        part_seed=1110, seed=1101, yaw=-97, orientation=TURN_LEFT, bench="wood", tilt=32, stops=0.35,
        label="40342  input shaft", taken="2026-05-19 08:55:02", note_at=(22, -112), windows=150,
    )  # fmt: skip
    yield Shot(
        "40342-input-shaft-needle-bore", shaft_scenes.bore_close, core="40342", place="input-shaft",
        surface="needle-bore", stage=CLEANED, part_seed=1110, seed=1102, yaw=-4, tilt=34, focal=48,
        damage=("brinelling",), bench="mat", taken="2026-05-19 13:12:26",
    )  # fmt: skip
    cluster = dict(
        core="40342", place="layshaft", surface="flanks-3", part_seed=1120, damage=("water-stain",), focal=52,
        windows=-105,
    )  # fmt: skip
    yield Shot(
        "40342-layshaft-flank-found", flank_scenes.layshaft_flank, stage=FOUND, seed=1103, yaw=-4, tilt=31, stops=0.25,
        taken="2026-05-19 09:20:45", **cluster,
    )  # fmt: skip
    yield Shot(
        "40342-layshaft-flank-cleaned", flank_scenes.layshaft_flank, stage=CLEANED, seed=1104, yaw=3, tilt=29,
        bench="mat", taken="2026-05-19 13:31:10", **cluster,
    )  # fmt: skip
    yield Shot(
        "40342-main-shaft-cleaned", shaft_scenes.main_shaft, core="40342", place="main-shaft", surface="",
        stage=CLEANED, part_seed=1130, seed=1105, yaw=9, orientation=UPSIDE_DOWN, tilt=33, label="40342  main shaft",
        taken="2026-05-19 13:48:54", rule_at=(-95, -66), note_at=(-70, 62),
    )  # fmt: skip


def _core_3():
    shaft = dict(core="40508", place="input-shaft", part_seed=1210, label="40508  input shaft  C")
    yield Shot(
        "40508-input-shaft-found", shaft_scenes.input_shaft, surface="", stage=FOUND, seed=1201, yaw=8, bench="mat",
        stops=0.4, note_at=(32, 82), taken="2026-06-02 10:03:29", **shaft,
    )  # fmt: skip
    yield Shot(
        "40508-input-shaft-cleaned", shaft_scenes.input_shaft, surface="", stage=CLEANED, seed=1202, yaw=-5,
        tilt=33, taken="2026-06-02 15:17:36", **shaft,
    )  # fmt: skip
    yield Shot(
        "40508-input-shaft-cone", shaft_scenes.cone_close, surface="cone", stage=CLEANED, seed=1203, yaw=4, focal=52,
        tilt=31, windows=75, stops=-0.2, taken="2026-06-02 15:20:03", **shaft,
    )  # fmt: skip
    yield Shot(
        "40508-sleeve-and-hub-cleaned", flat_scenes.hub_and_sleeve, core="40508", place="sleeve-34", surface="",
        stage=CLEANED, part_seed=1230, seed=1205, yaw=15, tilt=31, windows=110, label="40508  hub 3-4",
        taken="2026-06-02 15:41:22", note_turn=-3,
    )  # fmt: skip
    yield Shot(
        "40508-ring-3-cleaned", flat_scenes.blocking_ring, core="40508", place="ring-3", surface="cone", stage=CLEANED,
        part_seed=1220, seed=1204, yaw=20, tilt=30, stops=0.25, bench="mat", taken="2026-06-02 15:32:48", note_turn=7,
    )  # fmt: skip


SHOTS = {shot.name: shot for core in (_core_1, _core_2, _core_3) for shot in core()}
