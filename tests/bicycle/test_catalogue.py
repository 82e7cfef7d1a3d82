import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, parse_catalogue, read_catalogue
from pose_fit.bicycle.columns import COLUMNS
from pose_fit.errors import CatalogueError


def parse(text):
    return parse_catalogue(text, source="shop.csv")


def test_the_demo_stock_is_complete():
    bicycles = read_catalogue(DEMO_CATALOGUE)
    assert len(bicycles) >= 20
    assert {bike.tyre.wheel_class_in for bike in bicycles} == {12, 14, 16, 18, 20, 24, 26}
    assert {bike.frame for bike in bicycles} >= {"level", "sloping", "step_through"}
    assert any(not bike.pedals for bike in bicycles)
    for bike in bicycles:
        if not bike.pedals:
            assert None not in (bike.saddle_min_mm, bike.saddle_max_mm)
            continue
        missing = [name for name in bike.__slots__ if getattr(bike, name) is None]
        assert not missing, bike.name
        # Rear and front centre add up to the wheelbase, less what both fall to the axles.
        assert 0 <= bike.chainstay_mm + bike.front_centre_mm - bike.wheelbase_mm < 15


def test_columns_fill_fields_of_a_bicycle():
    # The kind is told by the pedals.
    assert {column.field for column in COLUMNS} == {*Bicycle.__slots__, "kind"}
    assert len({header for column in COLUMNS for header in column.headers}) == sum(
        len(column.headers) for column in COLUMNS
    )
    assert [column.name for column in COLUMNS if column.required] == ["name", "tyre", "standover"]


SAME = Bicycle(
    name="Pipwren",
    tyre=parse("name,tyre,standover_mm\nPipwren,47-406,508\n")[0].tyre,
    standover_mm=508,
    frame="step_through",
    saddle_min_mm=609.6,
    seat_tube_angle_rad=math.radians(71.5),
    in_stock=True,
)


@pytest.mark.parametrize(
    "text",
    [
        "name,tyre,standover_mm,frame,saddle_min_mm,seat_tube_angle_deg,in_stock\n"
        "Pipwren,47-406,508,step-through,609.6,71.5,yes\n",
        "\ufeffName;Tyre;Standover_in;Frame;Saddle_min_cm;Seat tube angle deg;In stock\r\n"
        "Pipwren;47-406;20,0;Step through;60,96;71,5;3\r\n",
        "in_stock\tframe\tseat_tube_angle_deg\tsaddle_min_in\tcolour\tstandover_cm\ttyre\tname\n"
        "TRUE\tSTEP_THROUGH\t71.5\t24\tred\t50.8\t47-406\tPipwren\n\n",
        'name,tyre,standover_in,frame,saddle_min_mm,seat_tube_angle_deg,in_stock\n"Pipwren","47-406",'
        '"508 mm",step_through,"24in","71,5",y\n',
    ],
)
def test_spellings_of_one_table(text):
    (bicycle,) = parse(text)
    for name in Bicycle.__slots__:
        found, wanted = getattr(bicycle, name), getattr(SAME, name)
        assert found == (pytest.approx(wanted) if isinstance(wanted, float) else wanted), name


@given(st.floats(150, 1000))
def test_units_round_trip(standover_mm):
    for unit, per_mm in (("mm", 1), ("cm", 1 / 10), ("in", 1 / 25.4)):
        (bicycle,) = parse(
            f"name,tyre,standover_{unit}\nPipwren,47-406,{standover_mm * per_mm!r}\n"
        )
        assert bicycle.standover_mm == pytest.approx(standover_mm, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "pedals"), [("bicycle", True), ("Balance bike", False), ("city", True), ("", True)]
)
def test_the_kind_says_whether_there_are_pedals(kind, pedals):
    """A shop's own word is no fault."""
    (bicycle,) = parse(f"name,tyre,standover_mm,kind\nPipwren,12 x 2,270,{kind}\n")
    assert bicycle.pedals is pedals


HEAD = "name,tyre,standover_mm,saddle_max_mm,seat_tube_angle_deg,frame,in_stock\n"
GOOD = "Pipwren,47-406,500,700,71,level,yes\n"


def test_a_name_of_two_lines_is_one():
    (bicycle,) = parse('name,tyre,standover_mm\n"Pipwren\n 20  Low",47-406,500\n')
    assert bicycle.name == "Pipwren 20 Low"


FAULTY = [
    # A terminal would obey what such a name says.
    ("name,tyre,standover_mm\n\x1b[31mPipwren,47-406,500\n", "column name: .*control characters"),
    # The inseam sizes none of these, and as bicycles they would be judged wrongly.
    (
        "name,tyre,standover_mm,kind\nA,12 x 2,270,Tricycle\nB,20 x 2,480,BMX\n",
        "line 2, column kind: .*'tricycle'.*\n.*line 3, column kind: .*'bmx'",
    ),
    ("name,tyre,standover_mm,kind,pedals\nA,12,270,balance,yes\n", "column pedals: wanted no"),
    ("", "is empty"),
    ("\n\n", "is empty"),
    (HEAD, "holds no bicycle"),
    ("name,tyre\nPipwren,47-406\n", "wanted a column 'standover_mm' or .* found name, tyre"),
    ("nothing\n1\n", "wanted a column 'name'"),
    ("name,tyre,standover_mm,sadle_max_mm\n", "did you mean 'saddle_max_mm'"),
    (
        "name,tyre,standover_mm,standover_in\n",
        "'standover_mm' and 'standover_in'; keep one, where a cell may have a unit",
    ),
    (HEAD + GOOD + ",47-406,500,,,,\n", "line 3, column name: wanted a value"),
    (HEAD + "Pipwren,,500,,,,\n", "line 2, column tyre: wanted a value, found an empty cell"),
    (HEAD + "Pipwren,huge,500,,,,\n", "line 2, column tyre: 'huge' is not a tyre size"),
    (HEAD + "Pipwren,47-406,tall,,,,\n", "line 2, column standover_mm: .* found 'tall'"),
    (
        HEAD + "Pipwren,47-406,nan,,,,\n",
        "column standover_mm: wanted a length in mm, found 'nan'",
    ),
    (HEAD + "Pipwren,47-406,=A1*2,,,,\n", "column standover_mm: .* found '=A1"),
    (HEAD + "Pipwren,47-406,20,,,,\n", "column standover_mm: wanted 150 to 1000 mm, found 20 mm"),
    (HEAD + "Pipwren,47-406,500,-1,,,\n", "line 2, column saddle_max_mm"),
    (
        HEAD + "Pipwren,47-406,500,700,12,,\n",
        "line 2, column seat_tube_angle_deg: wanted 50 to 85°, found 12°",
    ),
    (HEAD + "Pipwren,47-406,500,700,x,,\n", "seat_tube_angle_deg: wanted a number, found 'x'"),
    (HEAD + "Pipwren,47-406,500,700,71,bent,\n", "column frame: wanted one of level.*'bent'"),
    (HEAD + "Pipwren,47-406,500,700,71,,maybe\n", "column in_stock: wanted yes, no or a count"),
    (
        HEAD + GOOD + "PIPWREN ,47-406,500,,,,\n",
        "line 3, column name: .*'PIPWREN' also in line 2; add the size",
    ),
    (
        HEAD + "Pipwren,47-406,500,70,5,71,level,yes\n",
        "wanted 7 cells .* found 8; a decimal comma",
    ),
    (HEAD + 'Pipwren,"47-406,500\n', "line 2: is not CSV"),
    (
        "name,tyre,standover_in\nPipwren,47-406,500\n",
        r"column standover_in: wanted 150 to 1000 mm, found 12700 mm, typed '500'; is it in another unit\?",
    ),
    # Inches below a header of millimetres: which header they want is told.
    (
        'name,tyre,standover_mm\nPipwren,47-406,"20,5"\n',
        r"found 20.5 mm; is it in another unit\? Then call the column 'standover_cm' or 'standover_in'",
    ),
    # A list without a column for the kind.
    ("name,tyre,standover_mm\nRowan BMX,20,480\n", "'Rowan BMX', .* not size a bmx; leave it out"),
    ("name,tyre,standover_mm\nRowan Trike 12,12,270\n", "not size a trike"),
    (
        "name,tyre,standover_mm,saddle_min_mm,saddle_max_mm\nPipwren,47-406,500,700,600\n",
        "column saddle_min_mm: wanted at most saddle_max_mm, 600, found 700",
    ),
]


@pytest.mark.parametrize(("text", "told"), FAULTY)
def test_faults_name_line_and_column(text, told):
    with pytest.raises(CatalogueError, match=told) as caught:
        parse(text)
    assert str(caught.value).startswith("shop.csv")


def test_many_faults_are_told_together_but_not_all():
    rows = "".join(f"Pipwren {row},47-406,low,,,,\n" for row in range(40))
    with pytest.raises(CatalogueError) as caught:
        parse(HEAD + rows)
    lines = str(caught.value).splitlines()
    assert lines[0].startswith("shop.csv, line 2, column standover_mm")
    assert lines[-1] == "and 35 more faults"


def test_formula_like_names_are_only_text():
    (bicycle,) = parse("name,tyre,standover_mm\n=1+1,47-406,500\n")
    assert bicycle.name == "=1+1"


def test_ambiguous_tyres_do_not_block_a_row():
    (bicycle,) = parse("name,tyre,standover_mm\nPipwren,24 x 1 3/8,600\n")
    assert bicycle.tyre.wheel_class_in == 24


def test_unreadable_files(tmp_path):
    with pytest.raises(CatalogueError, match="cannot be read"):
        read_catalogue(tmp_path / "missing.csv")
    with pytest.raises(CatalogueError, match="cannot be read"):
        read_catalogue(tmp_path)
    spoilt = tmp_path / "spoilt.csv"
    spoilt.write_bytes("name,tyre,standover_mm\nGrünling,47-406,500\n".encode("latin-1"))
    with pytest.raises(CatalogueError, match="UTF-8"):
        read_catalogue(spoilt)


def test_long_catalogues_are_read():
    rows = "".join(f"Pipwren {row},47-406,{300 + row % 500},,,,\n" for row in range(50_000))
    assert len(parse(HEAD + rows)) == 50_000


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text):
    for table in (text, HEAD + text, HEAD + "Pipwren,47-406," + text):
        try:
            bicycles = parse(table)
        except CatalogueError:
            continue
        assert bicycles
