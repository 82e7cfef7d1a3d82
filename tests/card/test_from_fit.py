import datetime as dt
import io

import pypdf
import pytest

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.card.card import LINE_LENGTH
from pose_fit.card.card_texts import CARD_TEXTS
from pose_fit.card.from_fit import card_bicycle, card_drawing, fit_card
from pose_fit.card.pdf import card_pdf
from pose_fit.errors import InputError
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.words import HEADLINES, reasons
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice

DAY = dt.date(2026, 3, 2)


@pytest.fixture(scope="module")
def demo() -> tuple[Bicycle, ...]:
    return read_catalogue(DEMO_CATALOGUE)


@pytest.mark.parametrize("sd_mm", [5.0, 15.0, 40.0])
def test_an_uncertain_case_is_never_called_worth_trying(demo, sd_mm):
    """Every inseam of the demo's range: contact beyond the guard band, or unsure, is never green."""
    counts = {"try": 0, "check": 0, "leave": 0}
    for inseam_mm in range(300, 860, 10):
        for skill in ("first_pedals", "sure", "off_road"):
            inseam = Inseam.stated(float(inseam_mm), sd_mm)
            for fit in judge(inseam, demo, rider=Rider(skill=skill)):
                bicycle = card_bicycle(fit)
                counts[bicycle.standing] += 1
                if bicycle.headline.startswith(("Good", "Roomy", "Tight")):
                    assert fit.probabilities["contact"] <= Policy().max_contact_risk
                if bicycle.standing == "leave":
                    assert not fit.recommended
                if bicycle.standing == "try":
                    assert fit.recommended
                    assert not fit.unsure
                    assert "not certain" not in bicycle.headline
    assert counts["leave"] > counts["try"] > 0
    assert counts["check"] > 0


@pytest.mark.parametrize("inseam_mm", [330.0, 450.0, 560.0, 700.0, 840.0])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_cards_of_the_whole_range_come_out(demo, inseam_mm, paper):
    inseam = Inseam.stated(inseam_mm, 8.0)
    card = fit_card(inseam, judge(inseam, demo), made_on=DAY)
    assert len(card.bicycles) == 8
    assert card.drawing.caption == card.bicycles[0].name
    assert card.advice[0]
    assert card.measured == CARD_TEXTS["en"].methods["stated"]
    assert card_pdf(card, paper=paper).startswith(b"%PDF-")


def test_the_best_stand_first_and_worst_are_left_out(demo):
    inseam = Inseam.stated(560.0, 8.0)
    fits = judge(inseam, demo)
    card = fit_card(inseam, fits, made_on=DAY)
    recommended = {fit.bicycle.name for fit in fits if fit.recommended}
    first = [bicycle.name for bicycle in card.bicycles[: len(recommended)]]
    assert set(first) == recommended
    assert "leave" not in [bicycle.standing for bicycle in card.bicycles[: len(recommended)]]


def test_a_card_without_bicycles_has_the_inseam_and_its_advice():
    inseam = Inseam.stated(560.0, 8.0)
    card = fit_card(inseam, (), made_on=DAY, label="Zoë")
    assert (card.bicycles, card.drawing, card.advice) == ((), None, ())
    assert card.label == "Zoë"


def test_bicycles_judged_for_somebody_else_are_refused(demo):
    fits = judge(Inseam.stated(600.0, 8.0), demo)
    with pytest.raises(
        InputError, match=r"this inseam, 560\.0 mm, found Pipwren 12 Push judged with 600"
    ):
        fit_card(Inseam.stated(560.0, 8.0), fits, made_on=DAY)


def test_the_drawing_says_what_it_shows(demo):
    [fit] = judge(Inseam.stated(560.0, 8.0), [bike for bike in demo if bike.name == "Brambit 20"])
    drawing = card_drawing(fit)
    assert "inseam of 22.0 in (56.0 cm) standing over Brambit 20" in drawing.description
    assert drawing.svg.startswith("<svg")


def test_a_name_too_long_for_its_line_is_shortened(demo):
    import dataclasses

    long = dataclasses.replace(demo[11], name="Brambit " * 40)
    inseam = Inseam.stated(560.0, 8.0)
    [bicycle] = fit_card(inseam, judge(inseam, [long]), made_on=DAY).bicycles
    assert len(bicycle.name) == LINE_LENGTH
    assert bicycle.name.endswith("…")


def test_a_spanish_card_says_every_reason_in_spanish(demo):
    """Over the demo's whole range: no sentence of the English engine is left on a card."""
    for inseam_mm in range(300, 860, 20):
        inseam = Inseam.stated(float(inseam_mm), 12.0)
        fits = judge(inseam, demo)
        english = {notice.message for fit in fits for notice in reasons(fit)}
        card = fit_card(inseam, fits, made_on=DAY, language="es", say_notice=lambda _: "Aviso.")
        for bicycle in card.bicycles:
            assert not english & set(bicycle.reasons)
            assert bicycle.headline.split(",")[0] not in HEADLINES.values()
        told = " ".join([*card.advice, card.measured, card.drawing.description]).casefold()
        assert not {"the", "child", "saddle", "with"} & set(told.replace(",", " ").split())


def test_a_spanish_pdf_speaks_spanish_and_says_how_long_a_bicycle_lasts(demo):
    inseam = Inseam.stated(560.0, 8.0)
    fits = judge(inseam, demo)
    best = fit_card(inseam, fits, made_on=DAY).bicycles[0].name
    card = fit_card(
        inseam,
        fits,
        made_on=DAY,
        unit="cm",
        language="es",
        say_notice=lambda _: "Aviso.",
        lasts={best: "Dura unos 14 meses."},
    )
    reader = pypdf.PdfReader(io.BytesIO(card_pdf(card)))
    assert len(reader.pages) == 1
    text = " ".join(reader.pages[0].extract_text().split())
    assert "2 de marzo de 2026" in text
    assert "Entrepierna: del suelo al tiro" in text
    assert "Dura unos 14 meses." in text
    assert "56.0 cm" in text
    for word in ("Inseam", "bicycles", "Caution", "measured"):
        assert word not in text


def test_the_card_of_a_present_says_for_which_day_its_inseam_is(demo):
    inseam = Inseam.stated(560.0, 8.0)
    day = dt.date(2026, 5, 1)
    for language, told in (("en", "expected on 1 May 2026"), ("es", "para el 1 de mayo de 2026")):
        card = fit_card(inseam, judge(inseam, demo), made_on=DAY, language=language, inseam_on=day)
        (page,) = pypdf.PdfReader(io.BytesIO(card_pdf(card))).pages
        assert told in " ".join(page.extract_text().split())


def test_what_another_note_tells_of_is_not_told_twice():
    notes = (
        Notice("print_scale_unknown", "Nobody measured the ruler."),
        Notice("size_on_trust", "Measure the ruler."),
        Notice("view_oblique", "Oblique."),
    )
    inseam = Inseam.stated(560.0, 8.0)
    both = fit_card(inseam.with_warnings(*notes), (), made_on=DAY)
    assert both.warnings == ("Measure the ruler.", "Oblique.")
    alone = fit_card(inseam.with_warnings(notes[0]), (), made_on=DAY)
    assert alone.warnings == ("Nobody measured the ruler.",)


def test_feet_flat_is_said_in_spanish_where_there_is_a_bar_to_stand_over(demo):
    told = {True: set(), False: set()}
    for inseam_mm in range(300, 860, 20):
        for fit in judge(Inseam.stated(float(inseam_mm), 5.0), demo):
            if fit.shown == "try with an adult holding it":
                told[fit.bicycle.has_top_tube].add(card_bicycle(fit, language="es").to_do)
    assert all("los dos pies planos" in to_do for to_do in told[True])
    assert all("se siente" in to_do for to_do in told[False])
    assert told[True]
    assert told[False]
