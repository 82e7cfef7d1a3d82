"""The columns of a bicycle catalogue: one row of header, unit, need and meaning each."""

from typing import Final

from pose_fit.files.csv_table import Column

__all__ = ["COLUMNS"]

COLUMNS: Final = (
    Column("name", "text", True, "What the shop calls the bicycle, size included; each name once."),
    Column(
        "tyre",
        "text",
        True,
        "Marking on the tyre's sidewall, such as 20 x 1.75 or 47-406; or the wheel size alone, 20.",
    ),
    Column(
        "standover",
        "length",
        True,
        "Floor to the top of the top tube where the rider straddles it, just ahead of the saddle,"
        " tyres inflated. On a step-through frame: the lowest place to step through.",
    ),
    Column(
        "standover_source",
        "text",
        False,
        "measured (tape, in the shop), published (maker's figure) or unknown.",
    ),
    Column("frame", "text", False, "level, sloping, step_through or unknown."),
    Column(
        "pedals",
        "yes_no",
        False,
        "yes, or no for a balance bicycle, which the child pushes with the feet.",
    ),
    Column(
        "kind",
        "text",
        False,
        "bicycle, or balance for one without pedals. A tricycle stands by itself and a BMX is ridden"
        " standing: the inseam sizes neither, so leave them out.",
    ),
    Column("top_tube_slope", "angle", False, "Rise of the top tube towards the front."),
    Column("saddle_min", "length", False, "Floor to the top of the saddle at its lowest."),
    Column(
        "saddle_max",
        "length",
        False,
        "Floor to the top of the saddle with the post at its limit mark.",
    ),
    Column(
        "crank", "length", False, "Centre of the bottom bracket to the centre of a pedal spindle."
    ),
    Column("bottom_bracket_height", "length", False, "Floor to the centre of the bottom bracket."),
    Column("seat_tube_angle", "angle", False, "Seat tube against the ground; 90 is upright."),
    Column(
        "handlebar_reach",
        "length",
        False,
        "Horizontally from the bottom bracket forward to the middle of the grips, handlebar straight.",
    ),
    Column("handlebar_height", "length", False, "Floor to the middle of the grips."),
    Column("wheelbase", "length", False, "Rear axle to front axle."),
    Column("chainstay", "length", False, "Bottom bracket to rear axle."),
    Column("front_centre", "length", False, "Bottom bracket to front axle."),
    Column("price", "number", False, "In the shop's currency."),
    Column("in_stock", "yes_no", False, "yes or no."),
)
