"""Worlds that differ in kind: proportions reach the mesh, cloth is where it is said to be."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from calibration.scenes.body import SKIN_VERTICES, Body, Parts
from calibration.scenes.dress import marks_of
from calibration.scenes.posing import heel_gap_mm, inseam_mm
from calibration.scenes.references import Book
from calibration.worlds.bodies import heights_mm, proportioned
from calibration.worlds.draw import PHOTOS_A_CHILD, draw_world_scene
from calibration.worlds.draw_clothes import legwear_group
from calibration.worlds.hips import measured_hip_mm, with_measured_hips
from calibration.worlds.people import Proportions, draw_proportions
from calibration.worlds.plain import draw_plain_scene, plain_person
from calibration.worlds.rooms import Thing, thing_pieces
from calibration.worlds.stances import draw_stance, rear_mm, stand
from calibration.worlds.tubes import AROUND, girths_of, trousers, tube
from calibration.worlds.world import WORLDS
from pose_fit.anthropometry.people import people
from tests.calibration.test_scenes_posing import BONES, POINTS

CHILD = Proportions(
    sex="f",
    age_years=7.0,
    stature_mm=1220.0,
    inseam_mm=560.0,
    hip_mm=612.0,
    knee_mm=330.0,
    ankle_mm=48.0,
    foot_length_mm=190.0,
)


def _stick_body() -> Body:
    """The posing tests' stick figure, with a neck, a waist and toes."""
    bones = BONES | {
        "neck01": (0, (0.0, -400.0, 0.0)),
        "spine03": (0, (0.0, -60.0, 0.0)),
        "toe3-1.L": (3, (160.0, 730.0, -60.0)),
        "toe3-1.R": (6, (-160.0, 730.0, -60.0)),
    }
    names = tuple(bones)
    vertices = np.tile(np.array((0.0, 100.0, -30.0)), (SKIN_VERTICES, 1))
    weights = np.zeros((SKIN_VERTICES, len(names)))
    weights[:, 0] = 1.0
    for row, (bone, point) in enumerate(POINTS):
        vertices[row] = point
        weights[row] = 0.0
        weights[row, names.index(bone)] = 1.0
    return Body(
        vertices_mm=vertices,
        joints_mm=np.array([joint for _, joint in bones.values()], float),
        parts=Parts(
            faces={},
            bone_names=names,
            bone_parents=tuple(parent for parent, _ in bones.values()),
            weights=weights,
        ),
    )


def test_drawn_proportions_reach_the_mesh() -> None:
    body = proportioned(_stick_body(), CHILD)
    found = heights_mm(body)
    assert inseam_mm(body) == pytest.approx(CHILD.inseam_mm, abs=0.1)
    for name, wanted in (
        ("ankle", CHILD.ankle_mm),
        ("knee", CHILD.knee_mm),
        ("crown", CHILD.stature_mm),
    ):
        assert found[name] == pytest.approx(wanted, abs=0.1)
    foot = body.vertices_mm[:2, 2]
    assert np.ptp(foot) == pytest.approx(CHILD.foot_length_mm, abs=0.1)


def test_hip_joints_are_told_where_measured_children_have_them() -> None:
    # Straight thighs of 300 mm under a joint 90 mm over the crotch, the knee 310 mm high.
    truth = {
        "inseam_mm": 560.0,
        "erect_joint_heights_mm": {"hip": 650.0, "knee": 310.0, "ankle": 60.0},
        "landmarks_mm": {
            f"{joint}_{side}": [x, y, -90.0]
            for side, x in (("left", 60.0), ("right", -60.0))
            for joint, y in (("hip", -650.0), ("knee", -310.0))
        },
        "landmarks_px": {},
    }
    camera = SimpleNamespace(project=lambda points_mm: points_mm[:, :2])
    window = SimpleNamespace(apply=lambda points_px: points_px)
    told = with_measured_hips(truth, camera=camera, window=window)
    wanted_mm = measured_hip_mm(560.0)
    assert people().inseam_from_hip_height.mean_mm(wanted_mm) == pytest.approx(560.0)
    for side in ("left", "right"):
        assert -told["landmarks_mm"][f"hip_{side}"][1] == pytest.approx(wanted_mm, abs=0.01)
        assert told["landmarks_px"][f"hip_{side}"][1] == pytest.approx(-wanted_mm, abs=0.01)
        assert told["landmarks_mm"][f"knee_{side}"] == truth["landmarks_mm"][f"knee_{side}"]
    assert told["erect_joint_heights_mm"]["hip"] == pytest.approx(wanted_mm, abs=0.01)


def test_the_hip_joint_goes_with_the_skin_around_it() -> None:
    body = _stick_body()

    def over_crotch_mm(one: Body) -> float:
        return marks_of(one).crotch_y_mm - float(one.joint_mm("upperleg01.L")[1])

    def trunk_mm(one: Body) -> float:
        found = heights_mm(one)
        return found["neck"] - found["crotch"]

    after = proportioned(body, CHILD)
    kept = over_crotch_mm(after) / over_crotch_mm(body)
    assert kept == pytest.approx(trunk_mm(after) / trunk_mm(body), rel=0.25)
    # The height drawn for the joint moves nothing.
    other = proportioned(body, replace(CHILD, hip_mm=CHILD.hip_mm + 30.0))
    np.testing.assert_array_equal(other.vertices_mm, after.vertices_mm)


def test_a_plain_child_keeps_the_bodys_own_heights() -> None:
    scenes = [
        draw_plain_scene(index=3, photo=photo, child=CHILD, width_px=900, height_px=1200)
        for photo in range(PHOTOS_A_CHILD)
    ]
    assert [scene.stance_group for scene in scenes] == ["asked", "free"] * 2
    assert len({scene.scene.dress for scene in scenes}) == 1
    assert all(scene.outfit.style == "own" and scene.has_reference for scene in scenes)
    assert plain_person(3) == scenes[0].scene.person


def test_the_head_keeps_its_shape() -> None:
    small, tall = (
        heights_mm(proportioned(_stick_body(), replace(CHILD, inseam_mm=inseam)))
        for inseam in (530.0, 590.0)
    )
    assert small["crown"] - small["neck"] == pytest.approx(tall["crown"] - tall["neck"], abs=0.01)


def test_heights_out_of_order_are_refused() -> None:
    with pytest.raises(ValueError, match="ankle < knee < inseam < hip < stature"):
        replace(CHILD, knee_mm=600.0)


def test_measured_children_come_whole_and_of_all_ages() -> None:
    drawn = draw_proportions(60, seed=5)
    assert drawn == draw_proportions(60, seed=5)
    shares = np.array([child.inseam_mm / child.stature_mm for child in drawn])
    # Derived crotch heights of children: .42 to .50 of stature by age, SD .012 to .018 within one.
    assert shares.min() > 0.36
    assert 0.44 < shares.mean() < 0.49
    assert shares.max() < 0.54
    assert np.std(shares) > 0.012
    ages = np.array([child.age_years for child in drawn])
    assert ages.min() < 3.2
    assert ages.max() > 12.8


def test_stand_touches_the_wall_only_where_asked() -> None:
    body = proportioned(_stick_body(), CHILD)
    rng = np.random.default_rng(4)
    for _ in range(20):
        stance = draw_stance(rng, group="free", age_years=CHILD.age_years)
        posed = stand(body, stance=stance, soles_mm=0, heel_mm=0, board_mm=15, seat_at_wall=False)
        assert rear_mm(posed) <= -3.9
    touching = stand(
        body,
        stance=replace(stance, heel_gap_mm=10.0, turn_deg=0.0),
        soles_mm=0,
        heel_mm=0,
        board_mm=15,
        seat_at_wall=True,
    )
    assert rear_mm(touching) == pytest.approx(-4.0, abs=0.1)


def test_heels_stand_off_the_board_as_drawn() -> None:
    body = proportioned(_stick_body(), CHILD)
    scene = _scene(photo=1)
    # Far enough that the seat is free of the wall.
    stance = replace(scene.scene.stance, heel_gap_mm=115.0, turn_deg=0.0, knee_bend_deg=0.0)
    posed = stand(body, stance=stance, soles_mm=0, heel_mm=0, board_mm=12, seat_at_wall=False)
    bare = replace(scene.scene.dress, footwear="bare", soles_mm=0.0)
    assert heel_gap_mm(posed, bare) == pytest.approx(127.0, abs=0.5)


def _cylinder(x_mm: float, radius_mm: float, low: float, high: float) -> np.ndarray:
    y, angle = np.meshgrid(np.arange(high, low, 4.0), np.linspace(0, 2 * np.pi, 90))
    points = [x_mm + radius_mm * np.sin(angle), y, radius_mm * np.cos(angle)]
    return np.stack([p.ravel() for p in points], axis=1)


def test_outline_of_a_cylinder_is_its_circle() -> None:
    girths = girths_of(_cylinder(30, 80, 0, -400), np.arange(-390.0, -10, 10))
    assert girths.radii_mm == pytest.approx(80, abs=0.6)
    assert girths.centres_mm[:, 0] == pytest.approx(30, abs=0.2)


def test_a_tube_ends_at_its_hem() -> None:
    girths = girths_of(_cylinder(0, 100, 0, -400), np.arange(-390.0, -10, 10))
    cloth = tube(girths, top_y_mm=-350, hem_y_mm=-120)
    assert cloth.points_mm[:, 1].min() == pytest.approx(-350)
    assert cloth.points_mm[:, 1].max() == pytest.approx(-120)
    assert len(cloth.points_mm) % AROUND == 0


@pytest.mark.parametrize("drop_mm", [4.0, 60.0])
def test_the_crotch_seam_hangs_as_far_as_it_was_laid(drop_mm: float) -> None:
    y = np.arange(-700.0, -20, 6)
    legs = [_cylinder(x, 60, 0, -500) for x in (65, -65)]
    hips = _cylinder(0, 130, -480, -760)
    cloth = trousers(
        girths_of(np.concatenate([hips, *legs]), y),
        (girths_of(legs[0], y[y > -490]), girths_of(legs[1], y[y > -490])),
        waist_y_mm=-690,
        fork_y_mm=-540,
        crotch_mm=np.array([0.0, -500.0, 0.0]),
        drop_mm=drop_mm,
        hems_y_mm=(-60, -60),
    )
    seam = cloth.points_mm[cloth.crotch]
    assert seam[:, 1].max() == pytest.approx(-500 + drop_mm, abs=1.0)
    assert np.abs(seam[:, 0]).max() < 1e-6
    assert cloth.points_mm[:, 1].max() == pytest.approx(-60, abs=0.01)
    # One piece of cloth: every edge but those of the waist and the two hems has two faces.
    edges: dict[tuple[int, int], int] = {}
    for face in cloth.faces:
        for a, b in zip(face, [*face[1:], face[0]], strict=True):
            edges[min(a, b), max(a, b)] = edges.get((min(a, b), max(a, b)), 0) + 1
    assert sum(count == 1 for count in edges.values()) == 3 * AROUND
    assert max(edges.values()) == 2


def _scene(photo: int, world: int = 1, index: int = 3):  # type: ignore[no-untyped-def]
    return draw_world_scene(
        WORLDS[world], index=index, photo=photo, child=CHILD, width_px=900, height_px=1200
    )


def test_a_child_keeps_clothes_and_room_over_its_photos() -> None:
    photos = [_scene(photo) for photo in range(PHOTOS_A_CHILD)]
    assert photos == [_scene(photo) for photo in range(PHOTOS_A_CHILD)]
    assert len({photo.outfit for photo in photos}) == 1
    assert len({photo.clutter for photo in photos}) == 1
    assert len({photo.scene.place for photo in photos}) == 1
    assert [photo.stance_group for photo in photos] == ["asked", "free", "asked", "free"]
    assert len({photo.scene.stance for photo in photos}) == PHOTOS_A_CHILD


def test_worlds_differ_in_kind() -> None:
    drawn = [
        _scene(0, world=world, index=index) for world in range(len(WORLDS)) for index in range(14)
    ]
    assert {one.outfit.style for one in drawn} == {"suit", "sewn", "draped", "painted"}
    assert {legwear_group(one.outfit) for one in drawn} == {
        "snug",
        "regular",
        "loose",
        "shorts",
        "hidden",
    }
    assert any(not one.has_reference for one in drawn)
    assert len({world.seed for world in WORLDS}) == len(WORLDS) >= 5
    for one in drawn:
        if one.stance_group == "asked":
            assert one.scene.stance.heel_gap_mm <= 60


def test_things_stay_out_of_the_child_s_way() -> None:
    thing = Thing("cupboard", 100.0, (800.0, 1200.0, 400.0), (0.3, 0.2, 0.1), (0.1, 0.1, 0.1))
    (piece,) = thing_pieces(thing, keep_off_mm=(-350.0, 420.0))
    assert piece.points_mm[:, 0].min() >= 420.0
    assert piece.points_mm[:, 1].max() <= 0.0
    assert piece.points_mm[:, 2].max() <= 0.0


def test_the_label_s_top_edge_is_the_book_s_spine() -> None:
    book = Book(
        origin_mm=np.array([5.0, -480.0, -150.0]),
        axes=np.eye(3),
        thickness_mm=25,
        height_mm=180,
        depth_mm=240,
        label_width_mm=110,
        label_height_mm=120,
        label=np.zeros((12, 11), np.uint8),
        rgb=(0.2, 0.1, 0.1),
    )
    corners = book.label_corners_mm
    assert corners[:2, 1] == pytest.approx(-480)
    assert corners[1] - corners[0] == pytest.approx([110, 0, 0])
    assert corners[3] - corners[0] == pytest.approx([0, 120, 0])
