"""What one rendered photo is made of: a tree of frozen parameters, no pictures, no meshes.

Lengths are millimetres and angles degrees, as the names say. The wall frame used by all
of this package has its origin at the foot of the wall, x to the right along the wall,
y down and z into the wall, so that a child in front of the wall has negative z.
"""

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "Bar",
    "Door",
    "Dress",
    "Film",
    "Legwear",
    "Paper",
    "Person",
    "Place",
    "Reference",
    "ReferenceKind",
    "Rgb",
    "Scene",
    "Stance",
    "View",
    "Wheel",
]

#: Linear reflectance, each 0..1.
Rgb = tuple[float, float, float]
Legwear = Literal["snug", "regular", "loose", "shorts", "hidden"]
Footwear = Literal["bare", "socks", "shoes"]
Wall = Literal["paint", "wallpaper", "brick", "planks", "concrete"]
Floor = Literal["planks", "tiles", "carpet", "concrete", "paving", "grass"]
Light = Literal["ceiling", "window", "lamps", "overcast", "sun"]
Treatment = Literal["original", "edited", "messenger", "stripped"]
ReferenceKind = Literal["sheet", "letter", "a4", "door", "wheel", "length"]


@dataclass(frozen=True, slots=True)
class Person:
    """A body that is no real child's: phenotype of the body model and local variations.

    ``muscle``, ``weight``, ``proportions`` and ``femininity`` run 0..1; ``ancestry`` are
    three mixing weights of the model's face and body types; the local variations are
    the model's own units, within about ±1.
    """

    age_years: float
    sex: Literal["f", "m"]
    stature_z: float
    femininity: float
    muscle: float
    weight: float
    proportions: float
    ancestry: tuple[float, float, float]
    upper_leg: float
    lower_leg: float
    crotch_height: float
    hip_height: float
    valgus: float
    thigh_girth: float
    calf_girth: float
    foot_length: float
    skin_rgb: Rgb
    hair_rgb: Rgb
    iris_rgb: Rgb
    hair: Literal["cropped", "short", "long"]
    hair_thickness_mm: float
    hair_length_mm: float

    def __post_init__(self) -> None:
        if not 2 <= self.age_years <= 14:
            raise ValueError(f"age wanted within 2..14 years; found {self.age_years}")


@dataclass(frozen=True, slots=True)
class Dress:
    """Clothes and shoes. ``ease_mm`` is the air between cloth and skin."""

    legwear: Legwear
    leg_ease_mm: float
    leg_flare_mm: float
    crotch_slack_mm: float
    fold_mm: float
    leg_hem_fraction: float
    leg_rgb: Rgb
    leg_weave: Literal["plain", "denim"]
    cover: Literal["none", "skirt", "long_top"]
    cover_below_crotch_mm: float
    cover_ease_mm: float
    top_ease_mm: float
    top_above_crotch_mm: float
    top_rgb: Rgb
    top_second_rgb: Rgb
    top_pattern: Literal["plain", "stripes", "checks"]
    top_sleeve: Literal["short", "long"]
    footwear: Footwear
    soles_mm: float
    shoe_rgb: Rgb
    sole_rgb: Rgb
    sock_rgb: Rgb

    def __post_init__(self) -> None:
        if (self.footwear == "shoes") != (self.soles_mm > 0):
            raise ValueError(
                f"soles wanted with shoes only; found {self.footwear}, {self.soles_mm} mm"
            )
        if (self.legwear == "hidden") != (self.cover != "none"):
            raise ValueError(
                f"a cover wanted with hidden legwear only; found {self.legwear}, {self.cover}"
            )


@dataclass(frozen=True, slots=True)
class Stance:
    """How the child stands. A positive turn brings the child's left side forward."""

    ankle_separation_mm: float
    knee_bend_deg: float
    turn_deg: float
    toe_out_deg: float
    heel_gap_mm: float
    arm_abduction_deg: float
    elbow_deg: float
    head_yaw_deg: float
    head_pitch_deg: float
    sideways_mm: float


@dataclass(frozen=True, slots=True)
class Place:
    """Wall, floor and light."""

    outdoors: bool
    wall: Wall
    wall_rgb: Rgb
    wall_second_rgb: Rgb
    floor: Floor
    floor_rgb: Rgb
    skirting_height_mm: float
    skirting_depth_mm: float
    skirting_rgb: Rgb
    light: Light
    light_azimuth_deg: float
    light_elevation_deg: float
    light_warmth: float
    ambient: float


@dataclass(frozen=True, slots=True)
class Paper:
    """A page on the wall: the printed sheet, or a plain one.

    ``print_scale`` is true over nominal length of what is printed; ``ruler_mm`` is what
    a tape read on the printed ruler, or None when nobody measured it.
    """

    kind: Literal["sheet", "letter", "a4"]
    paper: Literal["letter", "a4"]
    width_mm: float
    height_mm: float
    print_scale: float
    ruler_mm: float | None
    side: Literal[-1, 1]
    gap_mm: float
    middle_height_fraction: float
    roll_deg: float


@dataclass(frozen=True, slots=True)
class Door:
    """A door leaf in its frame; ``child_at`` is the child's place along the leaf's width."""

    width_mm: float
    height_mm: float
    floor_gap_mm: float
    recess_mm: float
    rgb: Rgb
    frame_rgb: Rgb
    side: Literal[-1, 1]
    gap_mm: float
    child_in_front: bool
    child_at: float
    panels: bool


@dataclass(frozen=True, slots=True)
class Wheel:
    """A bicycle wheel on the floor beside the child, in the child's own plane."""

    code: str
    nominal_diameter_mm: float
    true_diameter_mm: float
    width_mm: float
    side: Literal[-1, 1]
    gap_mm: float
    depth_offset_mm: float
    yaw_deg: float
    lean_deg: float
    rim_rgb: Rgb


@dataclass(frozen=True, slots=True)
class Bar:
    """A straight stick of known length, against the wall or in the child's own plane."""

    length_mm: float
    radius_mm: float
    plane: Literal["wall", "beside"]
    side: Literal[-1, 1]
    gap_mm: float
    foot_height_mm: float
    depth_offset_mm: float
    roll_deg: float
    pitch_deg: float
    rgb: Rgb


Reference = Paper | Door | Wheel | Bar


@dataclass(frozen=True, slots=True)
class View:
    """Camera as wished for; :func:`calibration.scenes.camera.frame` aims it."""

    distance_mm: float
    height_mm: float
    azimuth_deg: float
    roll_deg: float
    focal_35mm: float
    k1: float
    centre_shift_x: float
    centre_shift_y: float
    aim_shift_x: float
    aim_shift_y: float
    least_fill: float
    whole_body: bool


@dataclass(frozen=True, slots=True)
class Film:
    """What happens to the picture after the lens. Crops are fractions of width and height."""

    treatment: Treatment
    crop_left: float
    crop_top: float
    crop_right: float
    crop_bottom: float
    resize: float
    jpeg_quality: int
    noise: float
    blur_px: float
    exposure_ev: float
    white_balance: float
    stored_rotated: bool
    exif_focal_35mm: int | None
    date_time: str | None


@dataclass(frozen=True, slots=True)
class Scene:
    """One photo to be rendered."""

    seed: int
    index: int
    photo: int
    width_px: int
    height_px: int
    person: Person
    dress: Dress
    stance: Stance
    place: Place
    reference: Reference
    view: View
    film: Film

    @property
    def name(self) -> str:
        """File name without its ending."""
        return f"{self.seed:02d}_{self.index:04d}_{self.photo}"
