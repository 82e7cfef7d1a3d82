from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import Body, Bystander
from pose_fit.checks.find_person import Person, find_person
from pose_fit.errors import InputError
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Refusal


class Sees:
    """A pose model that answers each call with the next of its bodies."""

    def __init__(self, *bodies: Body | None) -> None:
        self._bodies = list(bodies)
        self.looked_at: list[Photo] = []

    def find(self, photo: Photo) -> Body | None:
        self.looked_at.append(photo)
        return self._bodies.pop(0) if self._bodies else None


@pytest.fixture
def photo(photo_of) -> Photo:
    return photo_of(np.full((1200, 900), 140, np.uint8))


@pytest.fixture
def child(photo, standing) -> Body:
    return standing(photo, hips_px=(300.0, 640.0), leg_px=400.0)


def bystander(photo, standing, hips_px, leg_px) -> Bystander:
    return Bystander(standing(photo, hips_px=hips_px, leg_px=leg_px).passes_px.mean(axis=0))


def code_of(result: Person | Refusal) -> str:
    assert isinstance(result, Refusal)
    return result.reasons[0].code


def test_a_child_alone_is_taken_without_a_word(photo, child):
    found = find_person(photo, Sees(child))
    assert isinstance(found, Person)
    assert found.body is child
    assert found.notices == ()


@pytest.mark.parametrize("leg_px", [230.0, 400.0, 700.0])
def test_somebody_who_could_be_meant_makes_the_choice_the_users(photo, child, standing, leg_px):
    other = bystander(photo, standing, (650.0, 1040.0 - leg_px), leg_px)
    result = find_person(photo, Sees(replace(child, bystanders=(other,))))
    assert code_of(result) == "several_people"
    assert isinstance(result, Refusal)
    assert result.asks == ("person",)


@pytest.mark.parametrize(
    ("hips_px", "leg_px"), [((700.0, 900.0), 150.0), ((700.0, 300.0), 300.0)], ids=["far", "poster"]
)
def test_somebody_who_cannot_be_meant_is_told_of(photo, child, standing, hips_px, leg_px):
    other = bystander(photo, standing, hips_px, leg_px)
    found = find_person(photo, Sees(replace(child, bystanders=(other,))))
    assert isinstance(found, Person)
    assert [notice.code for notice in found.notices] == ["others_in_picture"]


def test_a_point_on_the_person_found_chooses_it_and_is_told(photo, child, standing):
    other = bystander(photo, standing, (700.0, 640.0), 400.0)
    both = replace(child, bystanders=(other,))
    found = find_person(photo, Sees(both), person_px=(310.0, 800.0))
    assert isinstance(found, Person)
    assert found.body is both
    assert [notice.code for notice in found.notices] == ["person_chosen"]


def test_a_point_on_the_other_has_it_looked_at_with_the_first_covered(photo, child, standing):
    second = standing(photo, hips_px=(700.0, 640.0), leg_px=400.0)
    other = Bystander(second.passes_px.mean(axis=0))
    dark = photo.pixels.copy()
    dark[400:1100, 240:360] = 20
    shown = replace(photo, pixels=dark)
    pose = Sees(replace(child, bystanders=(other,)), second)
    found = find_person(shown, pose, person_px=(700.0, 700.0))
    assert isinstance(found, Person)
    assert found.body is second
    # Where the first stood the wall is painted, where the second stands nothing is.
    covered = pose.looked_at[1].pixels
    assert covered[800, 345].min() > 100
    assert (covered[:, 600:] == dark[:, 600:]).all()


def test_a_point_at_nobody_and_people_one_behind_the_other(photo, child, standing):
    other = bystander(photo, standing, (700.0, 640.0), 400.0)
    aside = replace(child, bystanders=(other,))
    assert code_of(find_person(photo, Sees(aside), person_px=(10.0, 1190.0))) == "nobody_there"
    near = bystander(photo, standing, (360.0, 640.0), 400.0)
    behind = replace(child, bystanders=(near,))
    assert code_of(find_person(photo, Sees(behind), person_px=(290.0, 700.0))) == "people_overlap"


def test_a_point_outside_the_picture_is_a_wrong_call(photo, child):
    with pytest.raises(InputError, match="wanted one point inside"):
        find_person(photo, Sees(child), person_px=(-5.0, 3.0))


def test_a_turned_picture_is_told_with_its_turn(photo, child):
    lying = replace(child, passes_px=child.passes_px[:, :, ::-1] * [1, -1] + [0, 900])
    result = find_person(photo, Sees(lying))
    assert code_of(result) == "picture_rotated"


def test_nobody_upright_but_somebody_when_turned(photo, child):
    assert code_of(find_person(photo, Sees(None, child))) == "picture_rotated"
    assert code_of(find_person(photo, Sees())) == "nobody"
