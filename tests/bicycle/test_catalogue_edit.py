"""A catalogue's text with one bicycle more or less: everything else stays as it stands."""

import dataclasses

import pytest

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, parse_catalogue
from pose_fit.bicycle.catalogue_edit import with_bicycle, without_bicycle
from pose_fit.errors import CatalogueError

TEXT = DEMO_CATALOGUE.read_text("utf-8")
DEMO = parse_catalogue(TEXT, source="demo")


def alike(found, wanted) -> bool:
    """Every field; lengths and angles as far as two decimals in the column's unit tell."""
    for field in dataclasses.fields(wanted):
        one, other = getattr(found, field.name), getattr(wanted, field.name)
        if isinstance(other, float) and one is not None:
            if one != pytest.approx(other, abs=0.2):
                return False
        elif one != other:
            return False
    return True


@pytest.mark.parametrize("bicycle", DEMO, ids=lambda bicycle: bicycle.name)
def test_a_bicycle_that_is_written_is_read_again(bicycle):
    assert alike(parse_catalogue(with_bicycle("", bicycle), source="new")[0], bicycle)
    new = dataclasses.replace(bicycle, name="Another 20")
    for head in ("name;tyre;standover_in\n", "Name,Tyre,Standover cm,Saddle max in\n"):
        separator = ";" if ";" in head else ","
        text = head + separator.join(
            ["First 20", "47-406", "20", "27"][: head.count(separator) + 1]
        )
        first, found = parse_catalogue(with_bicycle(text, new), source="new")
        assert first.name == "First 20"
        assert alike(found, new)


def test_one_bicycle_out_leaves_the_others_as_they_are():
    (name,) = [bicycle.name for bicycle in DEMO if bicycle.name == "Brambit 20"]
    left = parse_catalogue(without_bicycle(TEXT, name=name.upper()), source="left")
    assert left == tuple(bicycle for bicycle in DEMO if bicycle.name != name)
    with pytest.raises(CatalogueError, match="found 'Nobody'"):
        without_bicycle(TEXT, name="Nobody")
