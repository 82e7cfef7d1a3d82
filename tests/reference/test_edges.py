import cv2
import numpy as np
import pytest

from pose_fit.reference.edges import corners_of, edge_between, edges_of_quad, linear_light

QUAD_PX = np.array([[40.3, 35.7], [151.2, 41.4], [146.8, 190.1], [33.9, 181.6]])


def drawn(quad_px, *, inside=0.8, outside=0.2, over=8, blur_px=0.8, size_px=(190, 230)):
    """Linear light of a bright quadrilateral, drawn much larger and averaged down."""
    big = np.full((size_px[1] * over, size_px[0] * over), outside, np.float32)
    corners = np.round(((quad_px + 0.5) * over - 0.5) * 16).astype(np.int32)
    cv2.fillConvexPoly(big, corners, (inside,), cv2.LINE_8, 4)
    small = cv2.resize(big, size_px, interpolation=cv2.INTER_AREA)
    return cv2.GaussianBlur(small, (0, 0), blur_px)


@pytest.mark.parametrize(("blur_px", "limit_px"), [(0.5, 0.2), (1.0, 0.2), (2.0, 0.4)])
@pytest.mark.parametrize("seed", range(3))
def test_corners_where_blurred_noisy_sides_meet(blur_px, limit_px, seed):
    rng = np.random.default_rng(seed)
    light = drawn(QUAD_PX, blur_px=blur_px)
    light += rng.normal(0, 0.01, light.shape).astype(np.float32)
    rough_px = QUAD_PX + rng.uniform(-2, 2, (4, 2))
    edges = edges_of_quad(light, rough_px, reach_px=5.0)
    assert edges is not None
    np.testing.assert_allclose(corners_of(edges), QUAD_PX, atol=limit_px)
    assert all(edge.contrast == pytest.approx(0.6, abs=0.08) for edge in edges)
    assert all(edge.seen > 0.8 for edge in edges)


def test_the_nearest_edge_from_inside_counts():
    """A stronger edge of the wallpaper a few pixels outside is not the paper's."""
    light = np.full((200, 200), 0.1, np.float32)
    light[:, :107] = 0.5
    light[:, :103] = 0.8
    light = cv2.GaussianBlur(light, (0, 0), 0.7)
    edge = edge_between(
        light,
        np.array([104.0, 20.0]),
        np.array([104.0, 180.0]),
        inside_px=np.array([50.0, 100.0]),
        reach_px=6.0,
    )
    assert edge is not None
    across_px = -edge.line @ [0.0, 100.0, 1.0] / edge.line[0]
    # Between the centres of the last bright pixel, 102, and the next.
    assert across_px == pytest.approx(102.5, abs=0.1)


def test_a_side_without_an_edge_is_none():
    flat = np.full((200, 200), 0.5, np.float32)
    rng = np.random.default_rng(0)
    flat += rng.normal(0, 0.01, flat.shape).astype(np.float32)
    edge = edge_between(
        flat,
        np.array([100.0, 20.0]),
        np.array([100.0, 180.0]),
        inside_px=np.array([50.0, 100.0]),
        reach_px=6.0,
    )
    # On mere noise the cuts do not agree on a place.
    assert edge is None or abs(edge.contrast) < 0.02


def test_light_of_grey_levels():
    """Ends and middle of the sRGB curve (IEC 61966-2-1): level 188 is half the light."""
    light = linear_light(np.array([[0, 188, 255]], np.uint8))
    np.testing.assert_allclose(light, [[0.0, 0.5, 1.0]], atol=0.004)


def test_an_edge_in_encoded_levels_would_lie_on_the_dark_side():
    """Why light is used: the same blurred edge, found in both."""
    light = drawn(QUAD_PX, inside=0.9, outside=0.03, blur_px=1.5)
    encoded = (255 * light ** (1 / 2.2)).round().astype(np.uint8)
    in_light = edges_of_quad(linear_light(encoded), QUAD_PX, reach_px=5.0)
    in_levels = edges_of_quad(encoded.astype(np.float32) / 255, QUAD_PX, reach_px=5.0)
    assert in_light is not None
    assert in_levels is not None
    truth = np.ptp(QUAD_PX, axis=0)
    assert np.abs(np.ptp(corners_of(in_light), axis=0) - truth).max() < 0.3
    assert (np.ptp(corners_of(in_levels), axis=0) - truth).min() > 0.8
