"""The sections of the report."""

import math
from collections import Counter
from collections.abc import Sequence
from typing import Final

from calibration.observe import world_of
from calibration.score.analysis import Analysis
from calibration.score.bodies import AGE_BANDS_Y
from calibration.score.decisions import AGE_BAND_Y, DRAWS, STATURE_BAND_MM
from calibration.score.groups import GROUPINGS, budget_medians_mm, groups_by, stance_of
from calibration.score.limits import Figure
from calibration.score.metrics import Metrics, metrics_of
from calibration.score.sources import TOGETHER
from calibration.score.words import METRIC_HEADS, metric_cells, mm, percent, table
from calibration.scored import Scored, in_scope, measured, refused, shows_legs

__all__ = [
    "ablation_section",
    "body_section",
    "decision_section",
    "group_sections",
    "limits_section",
    "refusal_section",
    "baseline_section",
    "several_section",
    "source_section",
    "world_section",
    "worst_section",
]


def limits_section(analysis: Analysis) -> str:
    """The limits, what was found, and what the budget blames."""
    rows = []
    for figure in analysis.figures:
        wanted = f" of {figure.wanted_count} wanted" if figure.wanted_count > 1 else ""
        rows.append(
            [
                figure.name,
                _limits(figure),
                _value(figure),
                f"{figure.count}{wanted}",
                _verdict(figure),
                figure.blamed or "–",
            ]
        )
    heads = ("figure", "limit", "found", "photos", "met", "budget’s largest (median mm)")
    return (
        "## The limits\n\n"
        + table(heads, rows)
        + "\nThe last column is what the budget of that group blames most: median standard"
        " uncertainty that each source brings to the inseam.\n\nAll measured photos of the scored"
        " part, those out of scope too:\n\n"
        + table(
            ("photos", *METRIC_HEADS),
            [
                ["in scope", *metric_cells(_metrics(analysis.scope))],
                ["all", *metric_cells(_metrics(analysis.items))],
            ],
        )
    )


def _metrics(items: Sequence[Scored]) -> Metrics:
    return metrics_of([item.error_mm for item in items], [item.sd_mm for item in items])


def _number(figure: Figure, value: float) -> str:
    if not figure.is_share:
        return mm(value)
    return percent(value, 2 if figure.high < 0.05 else 0)


def _limits(figure: Figure) -> str:
    low, high = _number(figure, figure.low), _number(figure, figure.high)
    if math.isinf(figure.high) or (figure.is_share and figure.high == 1):
        return f"at least {low}"
    return f"at most {high}" if figure.low == 0 else f"{low} to {high}"


def _value(figure: Figure) -> str:
    found = _number(figure, figure.value)
    if figure.doubt is None:
        return found
    low, high = (_number(figure, limit) for limit in figure.doubt)
    return f"{found} ({low} to {high})"


def _verdict(figure: Figure) -> str:
    if math.isnan(figure.value):
        return "not judged"
    few = "" if figure.enough else ", too few photos"
    if figure.met:
        return "yes" + few
    by = percent(figure.missed_by, 1) if figure.is_share else mm(figure.missed_by)
    return f"no, by {by}{few}"


#: An error beyond this is a blunder, named in the report.
_BLUNDER_MM: Final = 45.0


def world_section(analysis: Analysis) -> str:
    """Each world left out, by stance; and the blunders by name."""
    items = measured(analysis.everything)
    rows = []
    for world in sorted({world_of(item.truth) for item in items}):
        for stance in sorted({stance_of(item.truth) for item in items}):
            own = [
                item
                for item in items
                if world_of(item.truth) == world and stance_of(item.truth) == stance
            ]
            if own:
                rows.append([world, stance, *metric_cells(_metrics(own))])
    blunders = [
        [
            str(item.truth["photo"]),
            world_of(item.truth),
            str(item.truth["reference"]["kind"]),
            str(item.truth["legwear"]),
            mm(item.error_mm, sign=True),
            mm(item.sd_mm),
        ]
        for item in sorted(items, key=lambda item: -abs(item.error_mm))
        if abs(item.error_mm) > _BLUNDER_MM
    ]
    heads = ("photo", "world", "reference", "legwear", "error", "standard uncertainty")
    told = table(heads, blunders) if blunders else "None.\n"
    return (
        "## Each world left out\n\nAll measured photos, further ones of a child and those out of scope"
        " too.\n\n"
        + table(("world left out", "stance", *METRIC_HEADS), rows)
        + "\nBy reference and stance:\n\n"
        + table(("reference", "stance", *METRIC_HEADS), _by_reference(items))
        + "\nThe same in legwear neither loose nor hidden:\n\n"
        + table(
            ("reference", "stance", *METRIC_HEADS),
            _by_reference([item for item in items if shows_legs(item.truth)]),
        )
        + f"\n### Errors above {_BLUNDER_MM:.0f} mm, by name\n\n{told}"
    )


def _by_reference(items: Sequence[Scored]) -> list[list[str]]:
    groups: dict[tuple[str, str], list[Scored]] = {}
    for item in items:
        key = str(item.truth["reference"]["kind"]), stance_of(item.truth)
        groups.setdefault(key, []).append(item)
    return [[*key, *metric_cells(_metrics(own))] for key, own in sorted(groups.items())]


def refusal_section(analysis: Analysis) -> str:
    """How many photos were refused, by reference and by reason."""
    rows = []
    kinds = sorted({str(result.truth["reference"]["kind"]) for result in analysis.results})
    for kind in kinds:
        own = [r for r in analysis.results if r.truth["reference"]["kind"] == kind]
        turned_down = refused(own)
        reasons = Counter(code for result in turned_down for code in result.codes)
        words = ", ".join(f"{code} {count}" for code, count in reasons.most_common()) or "–"
        within = sum(in_scope(result.truth) for result in turned_down)
        rows.append([kind, str(len(own)), str(len(turned_down)), str(within), words])
    heads = ("reference", "photos", "refused", "of them in scope otherwise", "reasons")
    return (
        "## Refused\n\n"
        + table(heads, rows)
        + "\nA refused photo has no error and stands in no other table.\n"
    )


def group_sections(analysis: Analysis) -> str:
    """Metrics by everything the photos are grouped by."""
    scope = analysis.scope
    parts = [
        "## Errors by group\n\nIn scope; legwear and heels off the wall over all measured photos"
        ".\n\n![Errors by group](error_by_group.png)\n"
    ]
    for title, label_of in GROUPINGS.items():
        pool = analysis.items if title in ("Legwear", "Heels off the wall") else scope
        groups = groups_by(label_of, pool)
        rows = [[group.label, *metric_cells(group.metrics)] for group in groups]
        parts.append(f"\n### {title}\n\n" + table((title.lower(), *METRIC_HEADS), rows))
    return "".join(parts)


def source_section(analysis: Analysis) -> str:
    """The budget beside the errors really made."""
    rows = [
        [
            source.source,
            str(source.errors_mm.size),
            mm(source.claimed_mm) if source.claimed_mm > 0 else "–",
            mm(source.bias_mm, sign=True),
            mm(source.spread_mm),
            percent(source.within95) if source.claimed_mm > 0 else "–",
        ]
        for source in analysis.sources
    ]
    heads = ("source", "n", "budget says", "mean seen", "spread seen", "within 1.96 of the budget")
    lines = [
        [name, mm(sd_mm)] for name, sd_mm in budget_medians_mm(analysis.scope).items() if sd_mm > 0
    ]
    priors = [[one.name, str(len(one.values)), f"{one.rms:.2f}"] for one in analysis.priors]
    return (
        "## The budget against what was seen\n\n"
        "In scope. An input of the measurement equation is put at its truth while all others stay"
        " as the program took them; how far the inseam moves is that input’s own error. Joints"
        " and proportions stand together too, because the hip’s shift is fitted to make up for"
        " the body model’s proportions: apart, their means cancel.\n\n"
        "![Budget against errors](budget_against_seen.png)\n\n"
        + table(heads, rows)
        + "\nMedian budget line of every source, mm of inseam:\n\n"
        + table(("source", "median sd"), lines)
        + "\nWhat is taken for granted before a photo is solved: root mean square of error over"
        " claimed standard uncertainty, 1 where the claim is right, below 1 where it is"
        " cautious:\n\n" + table(("prior", "n", "error over claim"), priors)
    )


def worst_section(analysis: Analysis) -> str:
    """The largest errors, with what made them."""
    rows = []
    for item, parts in analysis.worst:
        apart = [part for part in parts if part.source != TOGETHER]
        largest = sorted(apart, key=lambda part: -abs(part.error_mm))[:3]
        words = ", ".join(f"{part.source} {mm(part.error_mm, sign=True)}" for part in largest)
        kind, legwear = item.truth["reference"]["kind"], item.truth["legwear"]
        rows.append(
            [
                f"{item.truth['photo']} ({kind}, {legwear})",
                mm(item.error_mm, sign=True),
                mm(item.sd_mm),
                words,
            ]
        )
    heads = ("photo", "error", "claimed sd", "largest errors apart")
    return "## The largest errors\n\nIn scope.\n\n" + table(heads, rows)


def ablation_section(analysis: Analysis) -> str:
    """What each part bought."""
    rows = [
        [
            one.name,
            *metric_cells(one.metrics),
            mm(one.whole.mae_mm),
        ]
        for one in analysis.ablations
    ]
    heads = ("read without", *METRIC_HEADS, "MAE of the whole")
    return (
        "## What each part bought\n\n"
        "In scope. “MAE of the whole” is the whole program’s on the same photos.\n\n"
        + table(heads, rows)
    )


def baseline_section(analysis: Analysis) -> str:
    """Other ways to an inseam on the same photos."""
    rows = [[baseline.name, *metric_cells(baseline.metrics)] for baseline in analysis.baselines]
    sheet = [
        [baseline.name, *metric_cells(baseline.metrics)] for baseline in analysis.baselines_sheet
    ]
    heads = ("method", *METRIC_HEADS)
    return (
        f"## Baselines on the same photos\n\nThe {analysis.baselines[0].photos} photos in scope:\n\n"
        + table(heads, rows)
        + (f"\nThose with the sheet:\n\n{table(heads, sheet)}" if sheet else "")
        + "\nThe two tapes are simulated 200 times a photo, from the errors in"
        " `pose_fit/inseam/from_tape.py` and the sources named there; they have no bias, which a real"
        " tape may. Ages and statures are those of the body model, whose legs are not those"
        " of the measured children behind the two rows by age and by stature.\n"
    )


def decision_section(analysis: Analysis) -> str:
    """What the methods advise to measured children."""
    rows = [
        [
            one.method,
            percent(one.advised, 1),
            percent(one.touching_of_advised, 2),
            percent(one.touching_drawn, 2),
            percent(one.none_though_one_fits, 1),
            percent(one.unfit, 1),
            percent(one.less_room, 1),
            percent(one.without_best, 1),
        ]
        for one in analysis.decisions
    ]
    heads = (
        "method",
        "advised",
        "touch the bar, of the advised",
        "the same, soles and bars drawn",
        "none, though one fits",
        "unfit",
        "fits, another for longer",
        "without the best",
    )
    return (
        "## Decisions\n\n"
        f"{analysis.riders} measured children of 2 to 14 years, on whom no shipped relation was"
        " fitted, meet the demo catalogue; their crotch height is derived, see"
        " `calibration/data/README.md`. Each method advises one bicycle in stock or none. The"
        " photo’s errors and uncertainties are those of the scored photos with the sheet in"
        f" scope, each given to every child; tapes and statures are drawn {DRAWS} times a child."
        " A chart has one wheel size for each"
        f" {AGE_BAND_Y:g} year of age or {STATURE_BAND_MM / 10:g} cm of stature, made from the"
        " other children of the same survey, either the size whose bicycles fit the most of the"
        " band or the size best for its middle child; the shop hands out any bicycle of that size"
        " in stock.\n\n"
        "- touch the bar: inseam + sole − standover is not above 0, with sole and standover as"
        " assumed; in the next column both are drawn from their uncertainty. A step-through frame"
        " has no bar to touch.\n"
        "- unfit: one in stock truly fits (wanted clearance, feet on the ground, nothing"
        " outgrown), but the advised one does not.\n"
        "- without the best: none though one fits, or an unfit one, or one that fits though"
        " another would have fitted for longer. The program’s own rule, given the exact inseam,"
        " says which is best.\n\n" + table(heads, rows) + "\n![Decisions](decisions.png)\n"
    )


def body_section(analysis: Analysis) -> str:
    """The bench's bodies beside measured people."""
    young_y, old_y = AGE_BANDS_Y
    heads = (
        "relation",
        "bodies",
        "mean",
        "spread",
        f"below {young_y:g} y",
        f"{young_y:g} to {old_y:g} y",
        f"from {old_y:g} y",
        "between people",
        "not known of people",
    )
    rows = [
        [
            one.relation,
            str(one.count),
            mm(one.mean_mm, sign=True),
            mm(one.sd_mm),
            mm(one.young_mm, sign=True),
            mm(one.middle_mm, sign=True),
            mm(one.old_mm, sign=True),
            mm(one.person_sd_mm),
            mm(one.systematic_sd_mm),
        ]
        for one in analysis.bodies
    ]
    return (
        "## The bodies beside measured people\n\nTrue lengths of all bodies less"
        " what the relations of measured people give for them. The program ships the people’s"
        " relations; the last two columns are the scatter between persons that it states for"
        " them, and what it says is not known of the relation.\n\n" + table(heads, rows)
    )


def several_section(analysis: Analysis) -> str:
    """Errors against the number of photos."""
    several = analysis.several
    rows = [
        [str(one.photos), str(one.children), *metric_cells(one.metrics)] for one in several.counts
    ]
    what = (
        "**A simulation**, since no folder of several photos of each child was given: the errors"
        " are drawn from the budgets of the scored photos with the sheet, so this shows what the"
        " budgets claim and is no evidence for them."
        if several.simulated
        else "Rendered photos of the same children in legwear neither loose nor hidden, in the pose"
        " asked for and free; stance, camera and film are drawn for each photo, and"
        " every choice of that many photos of a child is combined. n counts choices, which are"
        " not independent: judge by the children."
    )
    parts = [["budget", mm(several.claimed.own_mm), mm(several.claimed.shared_mm)]]
    if several.seen is not None:
        words = "drawn" if several.simulated else "seen (analysis of variance)"
        parts.append([words, mm(several.seen.own_mm), mm(several.seen.shared_mm)])
    return (
        f"## Several photos of one child\n\n{what}\n\n"
        + table(("photos", "children", *METRIC_HEADS), rows)
        + "\n![Several photos](several_photos.png)\n\nStandard deviation of one photo’s error,"
        " in what each photo has of its own and what all photos of a child share:\n\n"
        + table(("", "own", "shared"), parts)
    )
