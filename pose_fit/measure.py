"""The main job: one photo and what is said of it become an inseam, or a refusal."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.body.body import Body, PoseModel
from pose_fit.body.clicked import CROTCH_GUESSED, check_clicks, clicked_crotch
from pose_fit.body.covered_legs import check_legs_seen
from pose_fit.body.crotch import CROTCH_HIDDEN, CrotchPoint, find_crotch
from pose_fit.body.feet import find_toes
from pose_fit.body.person import find_person
from pose_fit.body.posture import check_posture, posture_warnings
from pose_fit.camera import camera_prior
from pose_fit.child import Child
from pose_fit.floor import find_wall_foot
from pose_fit.inseam.error_model import ErrorModel, error_model
from pose_fit.inseam.inseam import INSEAM_RANGE_MM, Inseam
from pose_fit.inseam.photo_equation import LegGeometry, foot_reach_mm
from pose_fit.inseam.photo_reading import (
    UNKNOWN_SOLES_MM,
    PhotoReading,
    PhotoSights,
    legs_of,
    read_inseam,
)
from pose_fit.photo import Photo
from pose_fit.picture_origin import check_seams, origin_of
from pose_fit.picture_quality import quality_of, refusal_for
from pose_fit.plane import PlaneScale, Stance, cast, solve_plane
from pose_fit.reference.find import ReferenceRequest, find_reference
from pose_fit.reference.find_sheet import LOG_SCALE_SD_MEASURED, LOG_SCALE_SD_UNMEASURED
from pose_fit.reference.reference import PointReference, Reference
from pose_fit.refusal import Notice, Refusal
from pose_fit.said import NOTHING_SAID, Said
from pose_fit.scale_check import check_scale
from pose_fit.stance_check import (
    RAISED_HEELS,
    check_stance,
    stance_warnings,
    with_raised_heels,
)
from pose_fit.uncertain import UncertainLength
from pose_fit.units import both_units

__all__ = ["PhotoMeasurement", "measure_photo"]

#: Above this the reference's points do not fit the object it is said to be.
MAX_MISFIT: Final = 4.0
#: Seen more obliquely than this a flat object tells little of its own scale.
MAX_OBLIQUITY_RAD: Final = float(np.radians(45.0))
WARN_OBLIQUITY_RAD: Final = float(np.radians(25.0))
#: A reference smaller than this in the picture is measured worse than the child.
MIN_REFERENCE_PX: Final = 24.0
#: A line between the legs that ends this far below where the hips put the crotch, in standard
#: uncertainties of the difference, is no crotch; one this far above cannot be.
HIDDEN_CROTCH: Final = 2.5
MAX_DISAGREEMENT: Final = 4.0
WARN_DISAGREEMENT: Final = 2.0
#: A floor by the foot of the wall this far above that by the toes, or this far below it, is
#: another edge. Boards and shadows on the floor offer more of them, and call a child taller.
#: Heels 50 to 100 mm off the wall put it 1 to 4 above: there it is what tells of them.
WRONG_WALL_FOOT: Final = (4.0, 1.5)
#: A photo that leaves the inseam this unsure says less than the child's stature does.
MAX_SD_MM: Final = 60.0
#: A ruler on the sole's edge.
SOLES_SD_MM: Final = 3.0

_CHECK_WHO: Final = (
    "Check the reference’s kind and size, where it hangs, and the child’s age and stature."
)

#: What to do about each source of uncertainty, for the photo's retake advice.
_RETAKE: Final = {
    "reference points": "Come closer or use a larger reference, so that it fills more of the picture.",
    "focal length": "Send the original picture file: messengers strip the lens data from it.",
    "lens": "Keep the child in the middle of the picture and do not use the widest lens.",
    "reference size": "Measure the reference with a tape (on the printed sheet, its ruler).",
    "reference shape": "Use the printed sheet, whose shape is known exactly.",
    "camera tilt": "Hold the phone level at hip height, and hang the reference beside the knees.",
    "distance from the wall": "Have both heels touch the wall that the reference hangs on.",
    "posture": "Have the child stand straight, heels to the wall, facing the camera.",
    RAISED_HEELS: "Have the child stand with both heels flat on the floor.",
    "pose landmarks": "Take a second photo and give both: the scatter of the pose model averages out.",
    "pose model": "Let the child wear close-fitting legwear in a colour unlike the wall.",
    "ankle height": "Measure with a tape too: ankles differ between children.",
    "hip to crotch": "Put the feet a hand apart in close-fitting legwear, so that the crotch shows.",
    "shoe soles": "Measure barefoot, or give the thickness of the soles.",
    "floor": "Leave a hand of floor visible below the feet, and the foot of the wall beside them.",
    "foot length": "Have both heels touch the wall, toes forward.",
    "crotch edge": "Use more light, and legwear in a colour unlike the wall.",
    "crotch click": "Click the crotch again, on a larger screen and with the picture enlarged.",
    "floor click": "Click the tip of the toes again, on a larger screen.",
    "clothing": "Wear close-fitting legwear: loose cloth hides where the legs part.",
}


@dataclass(frozen=True, slots=True)
class PhotoMeasurement:
    """Everything one photo gave, from what was found to the inseam."""

    photo: Photo
    sights: PhotoSights
    legs: LegGeometry
    reading: PhotoReading
    inseam: Inseam


def measure_photo(
    photo: Photo,
    request: ReferenceRequest,
    *,
    pose: PoseModel,
    child: Child | None = None,
    said: Said = NOTHING_SAID,
    model: ErrorModel | None = None,
) -> PhotoMeasurement | Refusal:
    """The inseam of the child in the photo, or why it cannot be measured.

    Raises
    ------
    ReferenceObjectError
        The points given for the reference are unusable.
    InputError
        A point given for crotch, floor or person lies outside the picture.
    """
    model = model or error_model()
    person = find_person(photo, pose, person_px=said.person_px)
    if isinstance(person, Refusal):
        return person
    body, quality = person.body, quality_of(photo, person.body)
    refusal = check_posture(photo, body)
    if refusal is None:
        refusal = quality.refusal
    if refusal is None:
        refusal = check_legs_seen(photo, body)
    if refusal is None:
        refusal = check_clicks(photo, body, crotch_px=said.crotch_px, floor_px=said.floor_px)
    if refusal is not None:
        return refusal
    reference = find_reference(photo, body, request)
    if isinstance(reference, Refusal):
        return refusal_for(quality.doubts, reference)
    origin = origin_of(photo)
    refusal = check_seams(photo, origin, body, reference)
    if refusal is not None:
        return refusal
    plane = solve_plane(reference, camera_prior(photo), stance=Stance(body.hips_px, body.ankles_px))
    refusal = _check_reference(reference, plane)
    if refusal is not None:
        return refusal
    legs = legs_of(plane, body, beside=reference.mount == "beside", model=model)
    seen = find_crotch(photo, body) if said.legwear != "hidden" else CROTCH_HIDDEN
    sights = _sights(photo, body, reference, plane, legs, seen, said, model)
    reading = read_inseam(sights, model=model)
    above, below = WRONG_WALL_FOOT
    if not -above <= reading.floors_apart <= below:
        # The feet are surely feet; another edge was taken for the foot of the wall.
        sights = replace(sights, wall_foot_px=None)
        reading = read_inseam(sights, model=model)
    if sights.crotch is not None and reading.disagreement < -HIDDEN_CROTCH:
        # Far below where the hips put it the line ends at a hem or in loose cloth.
        seen = CROTCH_HIDDEN
        sights = replace(sights, crotch=None)
        reading = read_inseam(sights, model=model)
    if said.crotch_px is not None:
        crotch = clicked_crotch(body, said.crotch_px, seen=seen)
        seen = CROTCH_GUESSED if isinstance(seen, Notice) else crotch
        sights = replace(sights, crotch=crotch, crotch_clicked=True)
        reading = read_inseam(sights, model=model)
    refusal = _check_reading(reading)
    if refusal is None:
        refusal = check_scale(photo, body, plane, reference, reading)
    if refusal is not None:
        return refusal
    warnings = (
        *person.notices,
        *quality.doubts,
        *origin.notices,
        *stance_warnings(legs, reading),
        *_warnings(body, plane, reading, seen, request, reference),
    )
    length = with_raised_heels(legs, reading)
    inseam = Inseam(length, "photo", warnings, _retake(length))
    judged = (child or Child()).plausibilities(inseam)
    implausible = [entry.notice for entry in judged if entry.band == "implausible" and entry.notice]
    if implausible:
        return Refusal(tuple(implausible), (_CHECK_WHO,))
    refusal = check_stance(body, plane, legs, reading, heels_down=said.heels_down)
    if refusal is not None:
        return refusal
    inseam = inseam.with_warnings(*(entry.notice for entry in judged if entry.notice))
    return PhotoMeasurement(photo, sights, legs, reading, inseam)


def _sights(
    photo: Photo,
    body: Body,
    reference: Reference,
    plane: PlaneScale,
    legs: LegGeometry,
    crotch: CrotchPoint | Notice,
    said: Said,
    model: ErrorModel,
) -> PhotoSights:
    is_clicked = said.floor_px is not None
    toes_px = np.array([said.floor_px] * 2, float) if is_clicked else find_toes(photo, body)
    soles_mm, soles_sd_mm = (
        UNKNOWN_SOLES_MM if said.soles_mm is None else (said.soles_mm, SOLES_SD_MM)
    )
    wall_foot_px = None
    if reference.mount == "wall":
        toes_mm = None
        if toes_px is not None:
            depth_mm = model.gap_mean_mm + model.reach_mean_mm + foot_reach_mm(legs.straight_mm)
            toes_mm = cast(plane.parameters, toes_px, depth_mm)
        wall_foot_px = find_wall_foot(
            photo,
            body,
            plane,
            floor_mm=_floor_mm(legs, toes_mm, soles_mm=soles_mm),
            down=legs.down,
            occupied_px=reference.image_px,
        )
    return PhotoSights(
        plane=plane,
        reference=reference,
        body=body,
        crotch=crotch if isinstance(crotch, CrotchPoint) else None,
        toes_px=toes_px,
        wall_foot_px=wall_foot_px,
        soles_mm=soles_mm,
        soles_sd_mm=soles_sd_mm,
        legwear=said.legwear,
        floor_clicked=is_clicked,
    )


def _floor_mm(
    legs: LegGeometry, toes_mm: NDArray[np.float64] | None, *, soles_mm: float
) -> NDArray[np.float64]:
    """(3,) floor below the hips, by the ankles; half way to what toes say, which err apart."""
    ankle = people().ankle_height_from_hip_to_ankle
    ankle_height_mm = ankle.intercept_mm + ankle.slope * legs.straight_mm
    hips_mm = legs.hips_mm.mean(axis=0)

    def below_hips_mm(feet_mm: NDArray[np.float64]) -> float:
        return float((feet_mm.mean(axis=0) - hips_mm) @ legs.down)

    by_ankles_mm = below_hips_mm(legs.ankles_mm) + ankle_height_mm + soles_mm
    by_toes_mm = by_ankles_mm if toes_mm is None else below_hips_mm(toes_mm)
    floor_mm: NDArray[np.float64] = hips_mm + (by_toes_mm + by_ankles_mm) / 2 * legs.down
    return floor_mm


def _check_reference(reference: Reference, plane: PlaneScale) -> Refusal | None:
    span_px = float(np.ptp(reference.image_px, axis=0).max())
    if span_px < MIN_REFERENCE_PX:
        return Refusal(
            (Notice("reference_small", f"The {reference.kind} spans only {span_px:.0f} pixels."),),
            ("Come closer, or use a larger reference.",),
        )
    if plane.misfit > MAX_MISFIT:
        return Refusal(
            (
                Notice(
                    "reference_mismatch",
                    f"The points do not have the shape of a {reference.kind}:"
                    " it is another object, or it is bent or covered.",
                ),
            ),
            ("Check which object it is, and mark its corners or ends exactly.",),
        )
    if plane.obliquity_rad > MAX_OBLIQUITY_RAD:
        return Refusal(
            (
                Notice(
                    "reference_oblique",
                    f"The {reference.kind} is seen at {np.degrees(plane.obliquity_rad):.0f}°,"
                    " too obliquely to give the scale.",
                ),
            ),
            ("Stand straight in front of the child and the reference.",),
        )
    return None


def _check_reading(reading: PhotoReading) -> Refusal | None:
    low_mm, high_mm = INSEAM_RANGE_MM
    mean_mm = reading.length.mean_mm
    if not low_mm <= mean_mm <= high_mm:
        return Refusal(
            (
                Notice(
                    "implausible",
                    f"The legs would have an inseam of {both_units(max(mean_mm, 0.0))},"
                    " which no child has.",
                ),
            ),
            (_CHECK_WHO,),
        )
    if reading.length.sd_mm > MAX_SD_MM:
        return Refusal(
            (
                Notice(
                    "too_unsure",
                    f"The photo leaves the inseam unsure by {_told(2 * reading.length.sd_mm)},"
                    f" most of it from the {reading.length.largest.source}.",
                ),
            ),
            _retake(reading.length),
        )
    crotch, legs = reading.best("crotch"), reading.best("legs")
    if crotch and legs and abs(reading.disagreement) > MAX_DISAGREEMENT:
        return Refusal(
            (
                Notice(
                    "readings_disagree",
                    f"The hips say {both_units(legs.value_mm)} and the place where the legs part"
                    f" {both_units(crotch.value_mm)},"
                    f" {both_units(abs(legs.value_mm - crotch.value_mm))} apart: one of them is"
                    " wrong.",
                ),
            ),
            ("Take the picture again in close-fitting legwear, feet a hand apart.",),
        )
    return None


def _told(unsure_mm: float) -> str:
    """Beyond a metre the number says no more."""
    return both_units(unsure_mm) if unsure_mm < 1000 else "more than its own length"


def _warnings(
    body: Body,
    plane: PlaneScale,
    reading: PhotoReading,
    crotch: CrotchPoint | Notice,
    request: ReferenceRequest,
    reference: Reference,
) -> tuple[Notice, ...]:
    warnings = list(posture_warnings(body))
    if isinstance(crotch, Notice):
        warnings.append(crotch)
    if isinstance(reference, PointReference) and reference.kind == "sheet":
        warnings += _print_scale_warnings(reference, ruler_mm=request.ruler_mm)
    if request.kind == "door" and request.size_mm is None:
        warnings.append(
            Notice("door_height_assumed", "The door’s height was not given: 80 in was assumed.")
        )
    if plane.obliquity_rad > WARN_OBLIQUITY_RAD:
        warnings.append(
            Notice("view_oblique", f"The view is {np.degrees(plane.obliquity_rad):.0f}° oblique.")
        )
    best_crotch, legs = reading.best("crotch"), reading.best("legs")
    if best_crotch and legs and abs(reading.disagreement) > WARN_DISAGREEMENT:
        warnings.append(
            Notice(
                "readings_differ",
                f"The hips say {both_units(legs.value_mm)}, the place where the legs part"
                f" {both_units(best_crotch.value_mm)}:"
                f" {both_units(abs(legs.value_mm - best_crotch.value_mm))} apart.",
            )
        )
    return tuple(warnings)


def _print_scale_warnings(sheet: PointReference, *, ruler_mm: float | None) -> list[Notice]:
    """What is to be told of the printed scale: nobody measured it, or two ways differ."""
    if ruler_mm is None and sheet.log_size_sd >= LOG_SCALE_SD_UNMEASURED:
        return [
            Notice(
                "print_scale_unknown",
                "The printed sheet’s ruler was not measured, and the edges of its paper are not"
                " seen well enough to do without: printers often shrink a page.",
            )
        ]
    if ruler_mm is not None and sheet.log_size_sd > LOG_SCALE_SD_MEASURED:
        return [
            Notice(
                "print_scale_differs",
                f"The ruler is said to measure {ruler_mm:g} mm, which does not fit how large the"
                " paper around it looks: please measure it again.",
            )
        ]
    return []


def _retake(length: UncertainLength) -> tuple[str, ...]:
    """Advice on the sources that make up most of the variance, biggest first."""
    total = sum(line.sd_mm**2 for line in length.budget)
    advice: list[str] = []
    explained = 0.0
    for line in length.budget:
        if explained > 0.6 * total or len(advice) == 3:
            break
        explained += line.sd_mm**2
        if _RETAKE[line.source] not in advice:
            advice.append(_RETAKE[line.source])
    return tuple(advice)
