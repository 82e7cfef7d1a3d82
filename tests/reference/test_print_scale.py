"""The printed scale by the paper's edges: drawn pages of known scale on plain walls."""

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.metrology.propagation import weighted_mean
from pose_fit.reference.edges import linear_light
from pose_fit.reference.paper import PAPER_SIZE_MM
from pose_fit.reference.print_scale import seen_print_scale
from pose_fit.reference.printed_sheet import marker_corners_mm, sheet_image

PAGE_PX_PER_MM = 8.0
OVER = 5


def picture(
    *,
    paper="a4",
    scale=1.0,
    cut_mm=(0.0, 0.0),
    shift_mm=(0.0, 0.0),
    px_per_mm=0.5,
    tilt=0.0,
    wall=110,
    blur_px=0.6,
    sharpen=0.0,
    noise=2.0,
    trim=(0.0, 0.0, 0.0, 0.0),
    seed=0,
):
    """Linear light of a page on a wall, and where its markers are: (corners_mm, corners_px).

    The print is scaled about the page's middle and shifted; the paper is cut larger by
    ``cut_mm`` and shorter on each side (left, top, right, bottom) by ``trim``, millimetres.
    """
    page = sheet_image(paper=paper, px_per_mm=PAGE_PX_PER_MM)
    half_mm = np.array(page.shape[::-1]) / 2 / PAGE_PX_PER_MM
    width_mm, height_mm = np.array(PAPER_SIZE_MM[paper]) + cut_mm
    left, top, right, bottom = trim
    rim_mm = np.array(
        [
            [-width_mm / 2 + left, -height_mm / 2 + top],
            [width_mm / 2 - right, -height_mm / 2 + top],
            [width_mm / 2 - right, height_mm / 2 - bottom],
            [-width_mm / 2 + left, height_mm / 2 - bottom],
        ]
    )
    size_px = np.ceil((half_mm * 2 + 60) * px_per_mm).astype(int)
    # Seen a little from the side and from above: a homography of true millimetres.
    seen = np.array(
        [[px_per_mm, 0.01, size_px[0] / 2], [0.0, px_per_mm, size_px[1] / 2], [tilt, tilt / 2, 1.0]]
    )

    def place(points_mm):
        return cv2.perspectiveTransform(np.asarray(points_mm, float)[None], seen)[0]

    printed_mm = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half_mm * scale + shift_mm
    page_px = (np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half_mm + half_mm) * PAGE_PX_PER_MM
    to_big = cv2.getPerspectiveTransform(
        (page_px - 0.5).astype(np.float32),
        ((place(printed_mm) + 0.5) * OVER - 0.5).astype(np.float32),
    )
    big_size = tuple(int(side) for side in size_px * OVER)
    big = np.full(big_size[::-1], wall, np.uint8)
    rim_px = np.round(((place(rim_mm) + 0.5) * OVER - 0.5) * 256).astype(np.int32)
    cv2.fillConvexPoly(big, rim_px, 235, cv2.LINE_8, 8)
    ink = cv2.warpPerspective(
        page, to_big, big_size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT,
        borderValue=255,
    )  # fmt: skip
    big = np.minimum(big, np.maximum(ink, 30))
    light = cv2.resize(linear_light(big), tuple(size_px), interpolation=cv2.INTER_AREA)
    light = cv2.GaussianBlur(light, (0, 0), blur_px)
    levels = 255 * np.where(light < 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    levels += sharpen * (levels - cv2.GaussianBlur(levels, (0, 0), 1.5))
    levels += np.random.default_rng(seed).normal(0, noise, levels.shape)
    corners_mm = np.stack(list(marker_corners_mm().values()))
    corners_px = place(corners_mm.reshape(-1, 2) * scale + shift_mm).reshape(-1, 4, 2)
    return linear_light(np.clip(np.round(levels), 0, 255).astype(np.uint8)), corners_mm, corners_px


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("scale", [0.96, 0.985, 1.0, 1.02])
@pytest.mark.parametrize("look", ["plain", "tilted", "shifted", "sharpened", "dark wall", "coarse"])
def test_the_edges_of_the_paper_tell_the_scale(paper, scale, look):
    change = {
        "plain": {},
        "tilted": {"tilt": 3e-4},
        "shifted": {"shift_mm": (2.0, -2.5)},
        "sharpened": {"sharpen": 0.6},
        "dark wall": {"wall": 60},
        "coarse": {"px_per_mm": 0.35},
    }[look]
    found = seen_print_scale(*picture(paper=paper, scale=scale, **change))
    assert found is not None
    assert 0 < found.sd < 0.005
    assert found.log_scale == pytest.approx(np.log(scale), abs=2.5 * found.sd)


def test_many_pages_err_as_they_say():
    """Random pages, cut as paper is: errors over their claims scatter by about one."""
    rng = np.random.default_rng(5)
    ratios, off = [], []
    for seed in range(40):
        scale = float(rng.normal(1, 0.012))
        found = seen_print_scale(
            *picture(
                paper=["letter", "a4"][seed % 2],
                scale=scale,
                cut_mm=rng.normal(0, 0.5, 2),
                shift_mm=rng.normal(0, 1, 2),
                px_per_mm=float(rng.uniform(0.35, 0.9)),
                tilt=float(rng.normal(0, 2e-4)),
                wall=int(rng.choice([50, 90, 130, 160])),
                blur_px=float(rng.uniform(0.4, 1.1)),
                sharpen=float(rng.choice([0.0, 0.4])),
                noise=float(rng.uniform(1, 5)),
                seed=seed,
            )
        )
        if found is not None:
            off.append(found.log_scale - np.log(scale))
            ratios.append(off[-1] / found.sd)
    assert len(ratios) >= 30
    # A ruler read by a tape has 0.003.
    assert np.sqrt(np.mean(np.square(off))) < 0.003
    assert np.sqrt(np.mean(np.square(ratios))) < 1.3
    assert np.abs(ratios).max() < 3.5


@pytest.mark.parametrize(
    "change",
    [
        {"wall": 232},
        {"trim": (0.0, 0.0, 6.0, 0.0)},
        {"trim": (0.0, 9.0, 0.0, 9.0)},
        {"scale": 0.9},
    ],
    ids=["no contrast", "one side cut off", "shortened", "shrunk beyond what printers do"],
)
def test_no_scale_where_the_paper_does_not_tell(change):
    assert seen_print_scale(*picture(**change)) is None


@given(
    st.lists(
        st.tuples(st.floats(-100, 100), st.floats(0.1, 10)), min_size=1, max_size=6
    )
)  # fmt: skip
def test_a_weighted_mean_lies_among_its_values_and_is_never_surer_than_all_agreeing(told):
    values, sds = np.array(told).T
    mean, sd = weighted_mean(values, sds)
    assert values.min() - 1e-9 <= mean <= values.max() + 1e-9
    assert sd >= (sds**-2).sum() ** -0.5 * (1 - 1e-12)


def test_a_weighted_mean_by_hand():
    """10 ± 1 and 14 ± 2: weights 4 to 1; they are 4 apart, 1.79 standard uncertainties."""
    mean, sd = weighted_mean([10, 14], [1, 2])
    assert mean == pytest.approx(10.8)
    assert sd == pytest.approx(np.sqrt(0.8) * 4 / np.sqrt(5))
