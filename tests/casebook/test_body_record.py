"""The body kept with a picture comes back as it was, and goes with the picture."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import Bystander
from pose_fit.casebook.body_record import body_from, bytes_of_body
from pose_fit.casebook.events import PictureRemoved
from pose_fit.casebook.kept_picture import Picture
from pose_fit.errors import CaseBookError


def assert_same(one, other):
    np.testing.assert_array_equal(one.passes_px, other.passes_px)
    np.testing.assert_array_equal(one.visibility, other.visibility)
    np.testing.assert_allclose(one.mask, other.mask, atol=0.5 / 255)
    assert (one.mask.dtype, one.mask.shape) == (other.mask.dtype, other.mask.shape)
    assert len(one.bystanders) == len(other.bystanders)
    for left, right in zip(one.bystanders, other.bystanders, strict=True):
        np.testing.assert_array_equal(left.points_px, right.points_px)
    assert (one.world_m is None) == (other.world_m is None)
    if one.world_m is not None:
        np.testing.assert_array_equal(one.world_m, other.world_m)


def test_a_body_comes_back_from_both_databases(book, content, picture, body):
    case = book.receive(content, by="family", pictures=[None, Picture(picture, body)])
    assert book.body(case.case_id) is None
    assert_same(book.body(case.case_id, 1), body)


def test_a_body_with_others_beside_it_and_one_without_depth_come_back(body):
    others = (Bystander(body.passes_px[0]), Bystander(body.passes_px[1] + 50.0))
    for one in (replace(body, bystanders=others), replace(body, world_m=None)):
        assert_same(body_from(bytes_of_body(one)), one)


def test_a_body_goes_with_its_picture(book, content, picture, body):
    case = book.receive(content, by="family", pictures=[Picture(picture, body), None])
    book.act(case, PictureRemoved(), by="Ada")
    assert book.body(case.case_id) is None


@pytest.mark.parametrize("damage", [b"", b"no archive", b"PK\x05\x06" + 18 * b"\0"])
def test_bytes_that_are_no_body_are_refused(damage):
    with pytest.raises(CaseBookError, match="cannot be read"):
        body_from(damage)


def test_a_body_with_objects_in_it_is_not_unpickled(tmp_path):
    file = tmp_path / "evil.npz"
    np.savez(file, passes_px=np.array([object()], dtype=object))
    with pytest.raises(CaseBookError, match="cannot be read"):
        body_from(file.read_bytes())
