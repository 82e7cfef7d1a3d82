"""The judgement against a simulation from first principles (JCGM 101): draw child, shoe and bicycle, and count.

Nothing of the judgement is used: clearance, saddle rules and the reach of the toes are written anew, from
the words of DEVELOPERS.md. What a simulated child shares between two limits (one pair of shoes) is shared here,
where the judgement takes the limits for independent.
"""

import math

import numpy as np
import pytest

from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam

from .bikes import PEDALLED

DRAWS = 100_000
#: Foot length by the inseam, mm (people.json), ankle to ball of the foot, heel raise on tiptoe.
FOOT = (49.246, 0.2504)
BALL_SHARE, TIPTOE = 0.48, math.radians(40)
INCH = 25.4
#: Soles of the riding shoe and their standard uncertainty.
SOLES = (15.0, 4.0)


def counted(bike, mean_mm, sd_mm, rng):
    """Shares of contact, tight, good, roomy and outgrown among simulated children."""
    inseam = rng.normal(mean_mm, sd_mm, DRAWS)
    sole = rng.normal(*SOLES, DRAWS)
    standover = rng.normal(bike.standover_mm, bike.standover_sd_mm, DRAWS)
    # A saddle's limit and a leg's reach, as an inseam.
    low_reach, high_reach = inseam + rng.normal(0, 8.5, (2, DRAWS))

    def tiptoe_mm(legs):
        return legs + BALL_SHARE * math.sin(TIPTOE) * (FOOT[0] + FOOT[1] * legs) + sole

    along = np.minimum(0.883 * high_reach, 1.09 * high_reach - bike.crank_mm)
    pedalling = bike.bottom_bracket_height_mm + along * math.sin(bike.seat_tube_angle_rad)
    outgrown = np.minimum(tiptoe_mm(high_reach), pedalling) > bike.saddle_max_mm
    reaches = tiptoe_mm(low_reach) >= bike.saddle_min_mm
    spare = inseam + sole - standover
    if not bike.has_top_tube:
        # The ground is to this frame what the top tube is to others.
        spare = (tiptoe_mm(low_reach) - bike.saddle_min_mm) / (
            1 + 0.48 * math.sin(TIPTOE) * FOOT[1]
        )
        reaches = True
    contact = spare <= 0
    tight = ~contact & ~outgrown & ((spare < INCH) | ~np.asarray(reaches))
    outgrown &= ~contact
    rest = ~contact & ~tight & ~outgrown
    return np.array([contact.mean(), tight.mean(), rest.mean(), outgrown.mean()])


@pytest.mark.parametrize("sd_mm", [5.0, 18.0])
@pytest.mark.parametrize("bike", PEDALLED, ids=lambda bike: bike.name)
def test_probabilities_are_those_of_simulated_children(bike, sd_mm):
    rng = np.random.default_rng(101)
    rider = Rider(soles_mm=SOLES[0], soles_sd_mm=SOLES[1])
    start_mm = bike.standover_mm if bike.has_top_tube else 0.85 * bike.saddle_min_mm
    for mean_mm in start_mm + np.array([-10.0, 15.0, 35.0, 60.0, 110.0, 160.0]):
        (fit,) = judge(Inseam.stated(float(mean_mm), sd_mm), (bike,), rider=rider)
        # Knees at the handlebar have a test of their own.
        assert fit.changes.cramped_by == "saddle"
        p = fit.probabilities
        told = np.array([p["contact"], p["tight"], p["good"] + p["roomy"], p["cramped"]])
        seen = counted(bike, float(mean_mm), sd_mm, rng)
        np.testing.assert_allclose(told, seen, atol=0.02, err_msg=f"{mean_mm} {sd_mm}")
        assert fit.fitting == pytest.approx(seen[2], abs=0.02)
        # The guard band is what keeps children off the top tube: no approximation there.
        assert told[0] == pytest.approx(seen[0], abs=0.005)
