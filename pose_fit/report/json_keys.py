"""What each key of the JSON says; printed by the commands' help. ``json_schema`` has what each holds.

Lengths are millimetres where a key ends in ``_mm``, pixels where it ends in ``_px``; chances lie
between 0 and 1.
"""

import textwrap
from collections.abc import Mapping
from typing import Final

__all__ = ["ANSWER_KEYS", "FIT_KEYS", "GROUP_KEYS", "PAIRS_KEYS", "PHOTO_KEYS", "keys_text"]

#: Of every photo, measured or refused.
PHOTO_KEYS: Final[dict[str, str]] = {
    "photo": "the file; null for all readings of the child together",
    "status": "measured or refused",
    "inseam_mm": "the inseam on the day of the photo; null where refused, as the next three",
    "sd_mm": "its standard uncertainty",
    "interval95_mm": "its 95 % interval",
    "method": "photo, tape, trousers, lift, stature, age, stated or combined",
    "budget": "list of source, sd_mm and shared (returns in every photo of the child)",
    "warnings": "code and message of each doubt",
    "retake": "what would help most, first",
    "taken_on": "day of the photo",
    "today": "inseam_mm, sd_mm and interval95_mm on the day of the advice (on); null if too old",
    "reasons": "code and message of each reason for a refusal",
    "reference": (
        "kind, placement, points_px, distance_mm and focal_px of the object; null without a photo"
    ),
    "landmarks_px": "x and y of each joint in pixels of the upright picture; null without a photo",
}
#: With a catalogue.
ANSWER_KEYS: Final[dict[str, str]] = {
    "fits": "each bicycle, best first, with the keys below",
    "choice": "which to choose, in words",
    "chosen": (
        "the same as names: best, runner_up, settle_first (measure or try it before you "
        "decide), not_in_stock, next_size, each null where there is none; "
        "next_size_from_inseam_mm; and wanted_standover_mm, the lowest and highest to look "
        "for"
    ),
    "how_sure": "sure, fairly sure or unsure",
    "with_stretch": "names that --stretch alone would recommend",
    "cautions": "what every advice carries",
}
#: Of each bicycle.
FIT_KEYS: Final[dict[str, str]] = {
    "name": "as in the catalogue",
    "tyre": "marking of the tyre",
    "wheel_class_in": "wheel size in inches",
    "shown": "the word or phrase that people are shown",
    "to_do": "what to do about the bicycle",
    "why": "the reason",
    "verdict": "likeliest of contact, tight, good, roomy and cramped (outgrown)",
    "recommended": "safe enough, likely to fit, and with room to grow",
    "unsure": "a better measurement could turn the answer",
    "headline": "a short title",
    "probabilities": "of each verdict, 0 to 1",
    "standover_mm": "standover height",
    "standover_sd_mm": "its standard uncertainty",
    "clearance_mm": (
        "inseam today + sole of the riding shoe - standover height; null without a top tube, "
        "as the next two"
    ),
    "clearance_sd_mm": "its standard uncertainty",
    "clearance_interval95_mm": "its 95 % interval",
    "contact_below_inseam_mm": (
        "inseam below which the top tube touches; without one, below which the feet do not "
        "reach the ground"
    ),
    "good_from_inseam_mm": "inseam from which the clearance is good",
    "roomy_from_inseam_mm": "inseam from which there is more than needed",
    "cramped_from_inseam_mm": "inseam from which it is outgrown; null where not known",
    "cramped_by": "saddle, knees, lift (a guess from the standover height) or nothing",
    "feet": "how they reach the ground from the lowest saddle; null where not known",
    "in_stock": "true, false or null",
    "reasons": "code and message of each reason",
    "cautions": "code and message of what to look out for",
    "settle_by": "what would settle an unsure case; else null",
    "months": (
        "months until_recommended (null where waiting does not help), until_outgrown (null "
        "beyond three years) and outgrown_window80 (so 8 times in 10); null without an age"
    ),
}
#: Of ``pairs``.
PAIRS_KEYS: Final[dict[str, str]] = {
    "agreement": "photo minus tape of all pairs, with the keys below",
    "groups": "the same by object, legwear, who held the tape, care and shop",
    "second_look": "name and difference_mm of each pair to look at again",
    "correction": (
        "pairs behind it, offset_mm by which photos read too long, offset_sd_mm, and scale of the"
        " rest of the uncertainty"
    ),
    "notices": "code and message where new pairs leave the range of the earlier ones",
}
#: Of all pairs or a group.
GROUP_KEYS: Final[dict[str, str]] = {
    "grouping": "what the pairs have in common; null for all",
    "group": "its value",
    "count": "pairs",
    "bias_mm": "mean difference",
    "bias95_mm": "its 95 % interval; null for a single pair, as the next two and limits_mm",
    "sd_mm": "standard deviation of the differences",
    "sd95_mm": "its 95 % interval",
    "covered": "pairs within the 95 % interval that the photo stated",
    "coverage95": "95 % interval of the share of such pairs, 0 to 1",
    "limits_mm": "95 in 100 photos lie between these from the tape",
}


def keys_text(groups: Mapping[str, Mapping[str, str]]) -> str:
    """The keys by title as the end of a command's help, a line each."""
    parts = []
    for title, keys in groups.items():
        lines = [
            line
            for key, meaning in keys.items()
            for line in textwrap.wrap(
                f"{key:<24} {meaning}", 76, initial_indent="  ", subsequent_indent=" " * 27
            )
        ]
        # The mark keeps the lines as they are.
        parts.append("\n".join(["\b", f"{title}:", *lines]))
    return "\n\n".join(parts)
