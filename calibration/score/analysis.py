"""Everything the report speaks about, worked out once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.fit.model import left_out_models
from calibration.observe import observe_folder, world_of
from calibration.score.ablation import Ablation, ablations_on
from calibration.score.baselines import Baseline, baselines_on
from calibration.score.bodies import Difference, differences_of
from calibration.score.decisions import (
    AGE_BAND_Y,
    DRAWS,
    STATURE_BAND_MM,
    ChartRule,
    Decision,
    Places,
    by_age,
    by_chart,
    by_photo,
    by_stature,
    by_tape,
    decision_of,
    touching_doubt,
)
from calibration.score.limits import (
    Figure,
    contact_figure,
    figures_of,
    three_photos_figures,
)
from calibration.score.population import Riders, Shop, chart_riders, met_riders, shop_of
from calibration.score.priors import PriorErrors, priors_on
from calibration.score.several_photos import (
    ByCount,
    ErrorParts,
    by_count,
    children_of,
    parts_claimed,
    parts_seen,
    simulated_children,
)
from calibration.score.sources import SourceError, SourceErrors, errors_apart, errors_by_source
from calibration.scored import (
    Result,
    Scored,
    in_scope,
    left_out_results,
    measured,
    shows_legs,
)
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.inseam.error_model import ErrorModel, error_model

__all__ = ["SEED", "Analysis", "SeveralPhotos", "analyse"]

#: Of everything drawn in the score.
SEED: Final = 1
_WORST: Final = 10
_SIMULATED_CHILDREN, _SIMULATED_PHOTOS = 400, 5


@dataclass(frozen=True, slots=True)
class SeveralPhotos:
    """Errors against the number of photos; ``seen`` is None for a simulation."""

    simulated: bool
    counts: tuple[ByCount, ...]
    claimed: ErrorParts
    seen: ErrorParts | None


@dataclass(frozen=True, slots=True)
class Analysis:
    """The score of one way to fit a model, on the world left out each time.

    Attributes
    ----------
    model
        The shipped one, fitted on all worlds.
    results
        All first photos of a child.
    everything
        All photos, further ones of a child and free stances too.
    worst
        The photos in scope with the largest errors, each with its errors apart.
    baselines, baselines_sheet
        On the measured photos in scope, and on those of them with the sheet.
    decisions
        One a method, the photos first.
    """

    model: ErrorModel
    results: tuple[Result, ...]
    everything: tuple[Result, ...]
    figures: tuple[Figure, ...]
    sources: tuple[SourceErrors, ...]
    priors: tuple[PriorErrors, ...]
    ablations: tuple[Ablation, ...]
    worst: tuple[tuple[Scored, tuple[SourceError, ...]], ...]
    baselines: tuple[Baseline, ...]
    baselines_sheet: tuple[Baseline, ...]
    decisions: tuple[Decision, ...]
    riders: int
    several: SeveralPhotos
    bodies: tuple[Difference, ...]

    @property
    def items(self) -> list[Scored]:
        """Measured photos."""
        return measured(self.results)

    @property
    def scope(self) -> list[Scored]:
        """Those of them the limits speak about."""
        return [item for item in self.items if in_scope(item.truth)]


def analyse(folder: Path, *, fitted_on: Path | None = None) -> Analysis:
    """Observe what is not observed yet; fit on all worlds but one and score that one, each in turn.

    Parameters
    ----------
    fitted_on
        Other photos of the same worlds, on which the models are fitted; the scored photos' own
        where None.

    Raises
    ------
    ValueError
        No photo is in scope and measured.
    """
    model = error_model()
    observations = observe_folder(folder)
    models = left_out_models(observations if fitted_on is None else observe_folder(fitted_on))
    everything = left_out_results(observations, models=models)
    # Further photos of a child would count its body several times over.
    results = [result for result in everything if not result.truth["photo_of_child"]]
    items = measured(results)
    scope = [item for item in items if in_scope(item.truth)]
    if not scope:
        raise ValueError(f"score: wanted measured photos in scope, found none in {folder.name}")
    sheet = [item for item in scope if item.truth["reference"]["kind"] == "sheet"]
    decisions, contact, riders = _decide(sheet, scope)
    several = _several(measured(everything), sheet or scope)
    return Analysis(
        model=model,
        results=tuple(results),
        everything=tuple(everything),
        figures=(*figures_of(items), *_several_figures(several), *contact),
        sources=tuple(
            errors_by_source(scope, models=models),
        ),
        priors=tuple(priors_on(scope, folder=folder)),
        ablations=tuple(ablations_on(scope, folder=folder, models=models)),
        worst=tuple(
            (item, tuple(errors_apart(item, model=models[world_of(item.truth)])))
            for item in sorted(scope, key=lambda item: -abs(item.error_mm))[:_WORST]
        ),
        baselines=tuple(baselines_on(scope, seed=SEED)),
        baselines_sheet=tuple(baselines_on(sheet, seed=SEED)) if sheet else (),
        decisions=decisions,
        riders=riders,
        several=several,
        bodies=tuple(differences_of([item.truth for item in observations])),
    )


def _several_figures(several: SeveralPhotos) -> tuple[Figure, ...]:
    """What three photos of one child have to reach; empty for what was only simulated."""
    three = next((one for one in several.counts if one.photos == 3), None)
    if several.simulated or three is None:
        return ()
    return three_photos_figures(three.metrics, children=three.children)


def _decide(
    sheet: Sequence[Scored], scope: Sequence[Scored]
) -> tuple[tuple[Decision, ...], tuple[Figure, ...], int]:
    riders, made_from = met_riders(), chart_riders()
    shop = shop_of(read_catalogue(DEMO_CATALOGUE))
    advices = {}
    contact: tuple[Figure, ...] = ()
    if sheet:
        errors_mm, sds_mm = [x.error_mm for x in sheet], [x.sd_mm for x in sheet]
        photo = by_photo(riders, shop, errors_mm=errors_mm, sds_mm=sds_mm)
        advices["photo with the sheet"] = photo
        drawn_mm = np.random.default_rng(SEED).normal(0, np.repeat(sds_mm, DRAWS))
        advices["the same, errors drawn from its budget"] = by_photo(
            riders, shop, errors_mm=list(drawn_mm), sds_mm=list(np.repeat(sds_mm, DRAWS))
        )
        share = decision_of("", photo, riders, shop, seed=SEED).touching_of_advised
        # Photos none of which led to contact say nothing of the doubt.
        doubt = touching_doubt(photo, riders, shop, seed=SEED) if share > 0 else None
        contact = (contact_figure(share, count=len(sheet), doubt=doubt),)
    advices["photo with any reference"] = by_photo(
        riders,
        shop,
        errors_mm=[item.error_mm for item in scope],
        sds_mm=[item.sd_mm for item in scope],
    )
    advices |= {
        "careful tape (simulated)": by_tape(riders, shop, care="careful", seed=SEED),
        "hasty tape (simulated)": by_tape(riders, shop, care="hasty", seed=SEED),
        "stature as parents measure it": by_stature(riders, shop, seed=SEED),
        "age and sex": by_age(riders, shop),
    }
    advices |= _by_charts(riders, shop, made_from=made_from)
    decisions = tuple(
        decision_of(method, advice, riders, shop, seed=SEED) for method, advice in advices.items()
    )
    return decisions, contact, len(riders)


_RULES: Final[dict[ChartRule, str]] = {
    "most": "size that fits most",
    "middle": "size best for the middle child",
}


def _by_charts(riders: Riders, shop: Shop, *, made_from: Riders) -> dict[str, Places]:
    keys: dict[str, tuple[Callable[[Riders], NDArray[np.float64]], float]] = {
        "age chart": (lambda some: some.age_y, AGE_BAND_Y),
        "stature chart": (lambda some: some.stature_mm, STATURE_BAND_MM),
    }
    return {
        f"{name}, {words}": by_chart(
            riders, shop, key=key, width=width, rule=rule, made_from=made_from, seed=SEED
        )
        for rule, words in _RULES.items()
        for name, (key, width) in keys.items()
    }


def _several(found: Sequence[Scored], items: Sequence[Scored]) -> SeveralPhotos:
    children = children_of([item for item in found if shows_legs(item.truth)])
    if any(len(lengths) > 1 for _, lengths in children):
        return SeveralPhotos(
            False, tuple(by_count(children)), parts_claimed(children), parts_seen(children)
        )
    drawn = simulated_children(
        items, photos=_SIMULATED_PHOTOS, draws=_SIMULATED_CHILDREN, seed=SEED
    )
    return SeveralPhotos(True, tuple(by_count(drawn)), parts_claimed(drawn), parts_seen(drawn))
