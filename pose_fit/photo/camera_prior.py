"""What is known of the camera before the reference is looked at.

Pinhole with one radial term. Phones correct their lenses, so the radial term
is near 0 and carries an uncertainty instead of a value.
"""

import math
from dataclasses import dataclass
from typing import Final

from pose_fit.photo.photo import Photo

__all__ = ["CameraPrior", "Convergence", "camera_prior"]

#: Diagonal of the 36 mm x 24 mm frame to which 35 mm-equivalents refer (CIPA DCG-001).
FRAME_DIAGONAL_MM: Final = math.hypot(36.0, 24.0)
#: 35 mm-equivalent of a typical phone's main lens (24 to 28 mm; common practice, no source).
TYPICAL_FOCAL_35MM: Final = 26.0
#: Standard uncertainties of the natural logarithm of the focal length. EXIF rounds to whole
#: millimetres and the value shifts with focus; a reshaped picture may be cropped to a half.
LOG_FOCAL_SD_EXIF: Final = 0.02
LOG_FOCAL_SD_RESHAPED: Final = 0.15
LOG_FOCAL_SD_UNKNOWN: Final = 0.28
#: Sensors of phones are 4:3. A picture of another shape is a crop of one, while EXIF goes on
#: speaking of the whole sensor's diagonal in this share of phones (common practice, no source);
#: the rest tell the focal length of what is left.
SENSOR_ASPECT: Final = 4 / 3
WHOLE_SENSOR_SHARE: Final = 0.8
#: Shapes that cameras crop to; 3:2 is a sensor of its own in other cameras.
CROPPED_ASPECTS: Final = (1.0, 16 / 9, 18 / 9, 19.5 / 9, 20 / 9)
#: Principal point away from the picture's centre, as a part of the diagonal.
PRINCIPAL_POINT_SD: Final = 0.006
PRINCIPAL_POINT_SD_RESHAPED: Final = 0.06
#: Radial term left over after the phone's own correction, for a wide and for a normal lens.
RADIAL_SD: Final = 0.012
RADIAL_SD_WIDE: Final = 0.03
WIDE_FOCAL_35MM: Final = 20.0


@dataclass(frozen=True, slots=True)
class Convergence:
    """How upright lines converge downwards: tangent of the pitch over the focal length, per pixel."""

    per_px: float
    sd_per_px: float


@dataclass(frozen=True, slots=True)
class CameraPrior:
    """Means and standard uncertainties of the intrinsic parameters, before any fit.

    ``radial`` is Brown's first coefficient k1, dimensionless, for image points
    divided by the focal length. ``convergence`` is that of upright edges, None where none are seen
    or the reference itself tells the tilt.
    """

    focal_px: float
    log_focal_sd: float
    centre_px: tuple[float, float]
    centre_sd_px: float
    radial_sd: float
    from_exif: bool
    convergence: Convergence | None = None

    def __post_init__(self) -> None:
        if not (self.focal_px > 0 and self.log_focal_sd > 0):
            raise ValueError(
                "wanted a focal length and a standard uncertainty above 0,"
                f" found {self.focal_px} px and {self.log_focal_sd}"
            )


def camera_prior(photo: Photo) -> CameraPrior:
    """Camera of a photo from its metadata, or a typical phone with a wide uncertainty."""
    known = photo.focal_35mm is not None
    focal_35mm = photo.focal_35mm if photo.focal_35mm is not None else TYPICAL_FOCAL_35MM
    if not known:
        log_focal_sd = LOG_FOCAL_SD_UNKNOWN
    else:
        log_focal_sd = LOG_FOCAL_SD_RESHAPED if photo.reshaped else LOG_FOCAL_SD_EXIF
    log_crop, log_crop_sd = _log_crop(photo) if known else (0.0, 0.0)
    centre_part = PRINCIPAL_POINT_SD_RESHAPED if photo.reshaped else PRINCIPAL_POINT_SD
    return CameraPrior(
        focal_px=focal_35mm / FRAME_DIAGONAL_MM * photo.diagonal_px * math.exp(log_crop),
        log_focal_sd=math.hypot(log_focal_sd, log_crop_sd),
        centre_px=((photo.width_px - 1) / 2, (photo.height_px - 1) / 2),
        centre_sd_px=centre_part * photo.diagonal_px,
        radial_sd=RADIAL_SD_WIDE if known and focal_35mm < WIDE_FOCAL_35MM else RADIAL_SD,
        from_exif=known,
    )


def _log_crop(photo: Photo) -> tuple[float, float]:
    """Logarithm of the whole sensor's diagonal over the picture's: mean and standard uncertainty.

    A picture of 16:9 keeps the long side of the sensor and a square the short one. Both
    hypotheses, EXIF of the whole sensor and of the crop, are kept as a mixture's mean and spread.
    """
    long_px, short_px = sorted((photo.width_px, photo.height_px), reverse=True)
    aspect = long_px / short_px
    nearest = min(CROPPED_ASPECTS, key=lambda one: abs(math.log(aspect / one)))
    if abs(aspect / nearest - 1) > 0.02:
        return 0.0, 0.0
    sensor_long_px = max(long_px, short_px * SENSOR_ASPECT)
    sensor_px = math.hypot(sensor_long_px, sensor_long_px / SENSOR_ASPECT)
    log_ratio = math.log(sensor_px / photo.diagonal_px)
    share = WHOLE_SENSOR_SHARE
    return share * log_ratio, math.sqrt(share * (1 - share)) * log_ratio
