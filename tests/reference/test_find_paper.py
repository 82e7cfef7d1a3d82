import cv2
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from pose_fit.photogrammetry.projection import project
from pose_fit.reference.find_paper import find_paper_corners, find_papers
from pose_fit.reference.paper import PAPER_SIZE_MM
from pose_fit.refusal import Refusal

SIZE_PX = (900, 1200)
FOCAL_PX = 900.0
OVER = 3


def pose(*, at_mm=(320.0, 250.0), distance_mm=2500.0, tilt_deg=(0.0, 0.0), roll_deg=0.0):
    rotation = Rotation.from_euler("z", roll_deg, degrees=True) * Rotation.from_euler(
        "xy", tilt_deg, degrees=True
    )
    centre_px = (np.array(SIZE_PX) - 1) / 2
    return np.array(
        [*rotation.as_rotvec(), *at_mm, distance_mm, np.log(FOCAL_PX), *centre_px, 0.0, 0.0, 0.0]
    )


def corners_px(at, size_mm):
    corners_mm = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.array(size_mm) / 2
    return project(at, np.column_stack([corners_mm, np.zeros(4)]))


def wall(kind: str, rng) -> np.ndarray:
    """(H, W, 3) linear light of a wall, enlarged for drawing."""
    height, width = SIZE_PX[1] * OVER, SIZE_PX[0] * OVER
    light = np.full((height, width, 3), 0.25, np.float32)
    if kind == "blotches":
        spots = cv2.GaussianBlur(rng.uniform(0, 1, (300, 225)), (0, 0), 4)
        spots = (spots - spots.min()) / np.ptp(spots)
        light *= 0.5 + cv2.resize(spots.astype(np.float32), (width, height))[..., None]
    elif kind == "stripes":
        light[:, (np.arange(width) // (18 * OVER)) % 2 == 0] = [0.5, 0.62, 0.68]
    elif kind == "planks":
        light[(np.arange(height) % (90 * OVER)) < 2 * OVER] *= 0.3
    elif kind == "pale":
        light *= 2.4
    light *= shade_of(width)
    return light


def shade_of(width: int) -> np.ndarray:
    """(1, W, 1) light that falls on the wall from the right."""
    return np.linspace(0.75, 1.15, width, dtype=np.float32)[None, :, None]


def picture(quads, *, kind="plain", blur_px=0.7, noise=0.004, paper_light=0.8, seed=0):
    """White quadrilaterals on a wall, mixed in linear light and encoded as sRGB."""
    rng = np.random.default_rng(seed)
    light = wall(kind, rng)
    shade = shade_of(light.shape[1])
    for quad_px in quads:
        inside = np.zeros(light.shape[:2], np.uint8)
        big_px = (quad_px + 0.5) * OVER - 0.5
        cv2.fillConvexPoly(inside, np.round(big_px * 16).astype(np.int32), (1,), cv2.LINE_8, 4)
        x, y, width, height = cv2.boundingRect(inside)
        part = np.s_[y : y + height, x : x + width]
        bright = paper_light * shade[:, x : x + width]
        light[part] = np.where(inside[part][..., None] == 1, bright, light[part])
    small = cv2.resize(light, SIZE_PX, interpolation=cv2.INTER_AREA)
    small = cv2.GaussianBlur(small, (0, 0), blur_px) + rng.normal(0, noise, (*SIZE_PX[::-1], 3))
    small = small.clip(0, 1)
    encoded = np.where(small < 0.0031308, 12.92 * small, 1.055 * small ** (1 / 2.4) - 0.055)
    return np.round(255 * encoded).astype(np.uint8)


@pytest.fixture
def look(photo_of, standing):
    """Looks for a paper in pixels with a child in the middle of the picture."""

    def find(pixels, paper, *, hips_px=(420.0, 640.0), leg_px=230.0):
        photo = photo_of(pixels)
        return find_paper_corners(
            photo, standing(photo, hips_px=hips_px, leg_px=leg_px), paper=paper
        )

    return find


@pytest.mark.parametrize("paper", sorted(PAPER_SIZE_MM))
@pytest.mark.parametrize("kind", ["plain", "blotches", "stripes", "planks", "pale"])
@pytest.mark.parametrize(("tilt_deg", "roll_deg"), [((0, 0), 0), ((8, -18), 4), ((-12, 25), -7)])
def test_corners_to_half_a_pixel(look, paper, kind, tilt_deg, roll_deg):
    true_px = corners_px(pose(tilt_deg=tilt_deg, roll_deg=roll_deg), PAPER_SIZE_MM[paper])
    found_px = look(picture([true_px], kind=kind), paper)
    assert not isinstance(found_px, Refusal), found_px
    np.testing.assert_allclose(found_px, true_px, atol=0.5)


def test_a_paper_on_its_side(look):
    true_px = corners_px(pose(), PAPER_SIZE_MM["a4"][::-1])
    found_px = look(picture([true_px]), "a4")
    np.testing.assert_allclose(found_px, true_px, atol=0.5)


@pytest.mark.parametrize("paper", sorted(PAPER_SIZE_MM))
@pytest.mark.parametrize("tilt_deg", [(-42, 0), (-38, 14)])
def test_a_paper_seen_from_high_above(look, paper, tilt_deg):
    """Its sides are as long as a square's and run together."""
    true_px = corners_px(pose(tilt_deg=tilt_deg, roll_deg=4), PAPER_SIZE_MM[paper])
    found_px = look(picture([true_px]), paper)
    assert not isinstance(found_px, Refusal), found_px
    np.testing.assert_allclose(found_px, true_px, atol=0.6)


def test_a_square_is_no_paper_however_it_is_seen(look):
    for tilt_deg in ((0, 0), (-38, 0), (0, 35)):
        square_px = corners_px(pose(tilt_deg=tilt_deg), (230.0, 230.0))
        assert refusal_code(look(picture([square_px]), "a4")) == "reference_missing"


@pytest.mark.parametrize(("blur_px", "noise"), [(2.0, 0.004), (1.0, 0.02)])
def test_a_blurred_or_noisy_picture(look, blur_px, noise):
    true_px = corners_px(pose(tilt_deg=(5, 10)), PAPER_SIZE_MM["letter"])
    found_px = look(picture([true_px], blur_px=blur_px, noise=noise), "letter")
    assert not isinstance(found_px, Refusal), found_px
    np.testing.assert_allclose(found_px, true_px, atol=1.2)


def refusal_code(found: object) -> str:
    assert isinstance(found, Refusal), found
    assert found.remedies
    return found.reasons[0].code


def test_a_lamp_that_lights_the_wall_is_no_paper(look):
    quad_px = corners_px(pose(), PAPER_SIZE_MM["letter"])
    pixels = picture([quad_px])
    lit = np.zeros(pixels.shape[:2], np.float32)
    cv2.fillConvexPoly(lit, np.round(quad_px).astype(np.int32), (1.0,))
    halo = cv2.GaussianBlur(lit, (0, 0), np.ptp(quad_px[:, 0]) / 5)[..., None]
    glowing = np.where(lit[..., None] > 0, pixels, np.clip(pixels + 100 * halo, 0, 255))
    assert not isinstance(look(pixels, "letter"), Refusal)
    assert refusal_code(look(glowing.astype(np.uint8), "letter")) == "paper_unsure"


def test_two_papers_are_refused(look):
    quads = [corners_px(pose(at_mm=(x_mm, 250.0)), PAPER_SIZE_MM["a4"]) for x_mm in (-600, 500)]
    assert refusal_code(look(picture(quads), "a4")) == "reference_ambiguous"


@pytest.mark.parametrize("kind", ["plain", "blotches", "stripes", "planks"])
def test_no_paper_is_refused(look, kind):
    assert refusal_code(look(picture([], kind=kind), "a4")) == "reference_missing"


def test_a_paper_behind_the_child_is_refused(look):
    quad_px = corners_px(pose(at_mm=(-60.0, 250.0)), PAPER_SIZE_MM["a4"])
    assert refusal_code(look(picture([quad_px]), "a4")) == "reference_missing"


def test_a_paper_cut_off_by_the_picture_is_refused(look):
    quad_px = corners_px(pose(at_mm=(1200.0, 250.0)), PAPER_SIZE_MM["a4"])
    assert quad_px[:, 0].max() > SIZE_PX[0]
    assert refusal_code(look(picture([quad_px]), "a4")) == "reference_missing"


@pytest.mark.parametrize("size_mm", [(210.0, 210.0), (120.0, 297.0), (800.0, 1130.0), (30.0, 42.0)])
def test_a_white_thing_of_another_shape_or_size_is_no_paper(look, size_mm):
    quad_px = corners_px(pose(), size_mm)
    assert refusal_code(look(picture([quad_px]), "a4")) == "reference_missing"


def test_a_leaning_white_thing_is_no_paper(look):
    quad_px = corners_px(pose(), PAPER_SIZE_MM["a4"])
    quad_px[2:] += [60.0, 0.0]
    assert refusal_code(look(picture([quad_px]), "a4")) == "reference_missing"


def test_a_printed_page_is_no_blank_paper(look):
    quad_px = corners_px(pose(distance_mm=1500.0), PAPER_SIZE_MM["a4"])
    pixels = picture([quad_px])
    low_px, high_px = np.ceil(quad_px.min(axis=0)), np.floor(quad_px.max(axis=0))
    for x_px in np.arange(low_px[0] + 12, high_px[0] - 12, 14).astype(int):
        pixels[int(low_px[1]) + 12 : int(high_px[1]) - 12, x_px : x_px + 7] = 30
    assert refusal_code(look(pixels, "a4")) == "reference_missing"


def test_a_paper_no_brighter_than_the_wall_is_refused(look):
    quad_px = corners_px(pose(), PAPER_SIZE_MM["a4"])
    pixels = picture([quad_px], paper_light=0.253)
    assert refusal_code(look(pixels, "a4")) == "reference_missing"


def bright(pixels, low_px, high_px, level=245):
    """A bright upright rectangle drawn into a picture."""
    (left, top), (right, bottom) = low_px, high_px
    pixels[top:bottom, left:right] = level
    return pixels


def test_the_sheet_is_the_surest_candidate_and_the_others_come_after(photo_of, standing):
    true_px = corners_px(pose(), PAPER_SIZE_MM["a4"])
    pixels = picture([true_px])
    # A lit patch above the head, of the paper's size.
    bright(pixels, (560, 60), (650, 187))
    photo = photo_of(pixels)
    candidates = find_papers(
        photo, standing(photo, hips_px=(420.0, 640.0), leg_px=230.0), paper="a4"
    )
    assert len(candidates) == 2
    np.testing.assert_allclose(candidates[0].corners_px, true_px, atol=0.5)
    assert candidates[0].score > 0.8 > 0.2 > candidates[1].score


def test_a_patch_above_the_head_is_not_taken(look):
    assert refusal_code(look(bright(picture([]), (560, 60), (650, 187)), "a4")) == "paper_unsure"


def test_a_pane_whose_bars_run_on_is_not_taken(look):
    """A window: bright panes between dark bars that do not end at a pane's corner."""
    pixels = picture([])
    bright(pixels, (560, 520), (842, 910))
    for x_px in (650, 746):
        pixels[520:910, x_px : x_px + 6] = 40
    for y_px in (647, 780):
        pixels[y_px : y_px + 6, 560:842] = 40
    assert refusal_code(look(pixels, "a4")) in ("paper_unsure", "reference_missing")


def test_a_patch_that_one_side_fades_into_the_wall_is_not_taken(look):
    pixels = bright(picture([]), (560, 600), (650, 727))
    wall = int(np.median(pixels[760:800, 560:650]))
    pixels[600:727, 560:650] = np.linspace(wall + 4, 245, 90)[None, :, None].astype(np.uint8)
    assert refusal_code(look(pixels, "a4")) in ("paper_unsure", "reference_missing")
