import datetime as dt

import pytest

from pose_fit.card.card import CardBicycle, CardDrawing, FitCard
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.refusal import Notice

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 360"'
    ' font-family="Verdana, DejaVu Sans, sans-serif">'
    '<rect width="100%" height="100%" fill="#fbfaf7"/>'
    '<circle cx="80" cy="250" r="60" fill="none" stroke="#2f3640" stroke-width="9"/>'
    '<text x="20" y="340" font-size="16">drawn words</text></svg>'
)


@pytest.fixture
def bicycles() -> tuple[CardBicycle, ...]:
    return (
        CardBicycle(
            name="Brambit 20",
            standing="try",
            headline="Good: fits now",
            to_do="worth a try, an adult holding it",
            reasons=("Standing over it, 2.0 in (5.1 cm) are left.", "It lasts a while."),
            cautions=("The top tube rises towards the front.",),
        ),
        CardBicycle(name="Larkum 18", standing="check", headline="Measure this bicycle first"),
        CardBicycle(
            name="Tansel & Half <24>",
            standing="leave",
            headline="Touching: not to be ridden",
            reasons=("The top tube is 0.4 in (1.0 cm) too high.",),
        ),
    )


@pytest.fixture
def card(bicycles) -> FitCard:
    """A card with something in every place. 560 +- 10 mm: 95 % from 540.4 to 579.6 mm."""
    length = UncertainLength(560.0, (Contribution("tape", 10.0),))
    inseam = Inseam(length, "tape", warnings=(Notice("tape_odd_reading", "Socks were worn."),))
    return FitCard(
        made_on=dt.date(2026, 3, 2),
        inseam=inseam,
        measured="With a tape and a book, twice.",
        bicycles=bicycles,
        label="Zoë’s birthday",
        advice=("Try the Brambit first.", "Measure again in May."),
        drawing=CardDrawing(SVG, "Brambit 20", "A child standing over a bicycle."),
        checked="Checked by our fitter.",
        shop="The demo shop, 4 Bridge Lane",
    )


@pytest.fixture
def told() -> tuple[str, ...]:
    """Everything that this card must say to the family."""
    return (
        "Fit card",
        "Zoë’s birthday",
        "2 March 2026",
        "22.0 in",
        "56.0 cm",
        "19 times in 20 (95 %) it lies between 21.3 in (54.0 cm) and 22.8 in (58.0 cm).",
        "With a tape and a book, twice.",
        "Socks were worn.",
        "Brambit 20",
        "Good: fits now. Worth a try, an adult holding it.",
        "Standing over it, 2.0 in (5.1 cm) are left.",
        "It lasts a while.",
        "The top tube rises towards the front.",
        "Larkum 18",
        "Measure this bicycle first.",
        "Tansel & Half <24>",
        "Touching: not to be ridden.",
        "The top tube is 0.4 in (1.0 cm) too high.",
        "Try the Brambit first.",
        "Measure again in May.",
        "Checked by our fitter.",
        "The demo shop, 4 Bridge Lane",
        # The cautions: what it is for, what it does not replace, helmet, law, who decides.
        "helps to choose which bicycles to try",
        "let the child stand over the bicycle",
        "A qualified fitter decides",
        "A helmet that fits on every ride",
        "the law asks for where you live",
    )
