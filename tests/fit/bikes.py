"""Bicycles and children for the tests of the judgement."""

import math

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.bicycle.tyre import read_marking
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength

DEMO = read_catalogue(DEMO_CATALOGUE)
#: With pedals, so that all geometry is known.
PEDALLED = tuple(bike for bike in DEMO if bike.pedals)
DEMO_BY_NAME = {bike.name: bike for bike in DEMO}


def bare(standover_mm=600.0, **values):
    """A bicycle of which only the standover is known, measured, with a level top tube."""
    known = {
        "name": "Pipwren",
        "tyre": read_marking("47-507"),
        "standover_mm": standover_mm,
        "standover_source": "measured",
        "frame": "level",
    }
    return Bicycle(**known | values)


def full(**values):
    """A bicycle with all geometry, of a usual 24 in size."""
    return bare(
        **{
            "standover_mm": 604.0,
            "saddle_min_mm": 700.0,
            "saddle_max_mm": 866.0,
            "crank_mm": 150.0,
            "bottom_bracket_height_mm": 276.0,
            "seat_tube_angle_rad": math.radians(72),
            "handlebar_reach_mm": 334.0,
            "handlebar_height_mm": 896.0,
            "wheelbase_mm": 956.0,
            "chainstay_mm": 388.0,
            "front_centre_mm": 570.0,
        }
        | values
    )


def by_photo(mean_mm, *, random_mm=3.0, shared_mm=6.0):
    """An inseam from a photo, with one random and one shared source."""
    budget = (
        Contribution("landmark scatter", random_mm),
        Contribution("focal length", shared_mm, shared=True),
    )
    return Inseam(UncertainLength(mean_mm, budget), "photo")
