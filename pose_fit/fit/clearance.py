"""Clearance over the top tube: from 0 it is tight, from the least wanted good, a band above it roomy.

Clearance is inseam + riding shoe - standover height. Below 0 the top tube touches.
"""

from typing import Final, Literal

from pose_fit.metrology.units import MM_PER_INCH

__all__ = ["GOOD_BAND_MM", "MIN_CLEARANCE_MM", "Skill"]

#: ``first_pedals`` learns and wants both feet flat; ``sure`` starts and stops alone, on tiptoe;
#: ``off_road`` also lands on uneven ground.
Skill = Literal["first_pedals", "sure", "off_road"]

#: Least clearance wanted over the top tube. 1 in: 16 CFR 1512.19(c), the minimum leg length.
#: Off-road 2 in: the widest minimum among public safety leaflets (1, 1-2, 1-3, at least 2 in).
MIN_CLEARANCE_MM: Final[dict[Skill, float]] = {
    "first_pedals": 1.0 * MM_PER_INCH,
    "sure": 1.0 * MM_PER_INCH,
    "off_road": 2.0 * MM_PER_INCH,
}
#: Clearance above the least that is still called good: with 1 in of it that is 1-2 in, the middle of
#: the public leaflets.
GOOD_BAND_MM: Final = 1.0 * MM_PER_INCH
