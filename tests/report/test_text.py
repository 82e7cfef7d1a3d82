"""The answer first: what a person reads in a terminal, whole on one screen."""

import csv
import io
import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.cli.main import EXIT_REFUSED, EXIT_WRONG_CALL, app
from pose_fit.fit.shown import CLEARED

SAMPLES = Path(__file__).parents[2] / "sample_images"
CASES = (
    ("--inseam", "25.5in", "--age", "9"),
    ("--inseam", "20in", "--age", "5y6m", "--sex", "f"),
    ("--inseam", "35cm"),
    ("--inseam", "95cm", "--age", "17"),
    ("--stature", "50in"),
    ("--age", "7"),
    ("--inseam", "22in", "--sd", "4cm"),
)


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Twenty-four bicycles of the demo, one of them out of stock."""
    rows = list(csv.reader(io.StringIO(DEMO_CATALOGUE.read_text("utf-8"))))
    path = tmp_path_factory.mktemp("stock") / "stock.csv"
    with path.open("w", newline="") as file:
        csv.writer(file).writerows(rows[:25])
    assert len(read_catalogue(path)) == 24
    return path


@pytest.mark.parametrize("words", CASES, ids=" ".join)
@pytest.mark.parametrize("units", ["in", "cm"])
def test_an_answer_fits_a_screen_and_names_every_bicycle(
    catalogue: Path, words: tuple[str, ...], units: str
) -> None:
    result = run("advise", *words, "--units", units, "--bikes", catalogue)
    assert result.exit_code == 0, result.output + result.stderr
    lines = result.stdout.splitlines()
    assert len(lines) < 30
    assert max(map(len, lines)) <= 80
    told = " ".join(result.stdout.split())
    left_out = re.search(r"and (\d+) more, less likely", told)
    named = sum(bicycle.name in told for bicycle in read_catalogue(catalogue))
    assert named + (int(left_out[1]) if left_out else 0) >= 24


@pytest.mark.parametrize("sample", ["sheet_1", "sheet_2", "letter_1", "a4_1"])
def test_the_answer_of_a_photo_fits_a_screen_with_all_its_notes(
    catalogue: Path, sample: str
) -> None:
    photo = SAMPLES / f"{sample}.jpg"
    result = run("measure", photo, "--heels-down", "--bikes", catalogue)
    assert result.exit_code == 0, result.output + result.stderr
    lines = result.stdout.splitlines()
    assert len(lines) < 30
    assert max(map(len, lines[1:])) <= 80


@pytest.mark.parametrize(
    ("sample", "action"),
    [("wheel_1", "the tyre’s side says"), ("sheet_3", "the ruler on the printed sheet")],
)
def test_what_is_to_be_done_is_told_once_the_action_first(
    catalogue: Path, sample: str, action: str
) -> None:
    """A note on the object's size and the advice for a surer value ask for the same."""
    truth = json.loads((SAMPLES / f"{sample}.json").read_text("utf-8"))
    told = run(
        "measure", SAMPLES / truth["photo"], *truth["arguments"], "--bikes", catalogue
    ).stdout
    told = " ".join(told.split("\n\n")[0].split())
    assert told.count(action) == 1
    actions = re.findall(r"(?:Surer still|Note): (\w+)", told)
    assert set(actions) <= {"Check", "Measure", "Have", "Take"}
    assert "Check the object" not in told


def test_how_to_stand_over_the_bicycle_is_one_caution(catalogue: Path) -> None:
    told = " ".join(run("advise", "--inseam", "25.5in", "--bikes", catalogue).stdout.split())
    assert told.count("stands over") == 1
    assert "stands over it, both feet flat, just ahead of the saddle" in told
    assert "further forward the top tube is higher" in told
    assert told.count("top tube rises") == 0
    step = read_catalogue(DEMO_CATALOGUE)
    only = catalogue.with_name("step.csv")
    rows = list(csv.reader(io.StringIO(DEMO_CATALOGUE.read_text("utf-8"))))
    names = {bicycle.name for bicycle in step if bicycle.frame == "step_through"}
    with only.open("w", newline="") as file:
        csv.writer(file).writerows([row for row in rows if row[0] in {rows[0][0], *names}])
    told = " ".join(run("advise", "--inseam", "25.5in", "--bikes", only).stdout.split())
    assert "both feet flat; a helmet" in told


@pytest.mark.parametrize("words", CASES, ids=" ".join)
def test_the_first_lines_are_what_to_do_how_sure_and_the_inseam(
    catalogue: Path, words: tuple[str, ...]
) -> None:
    top = " ".join(run("advise", *words, "--bikes", catalogue).stdout.split("\n\n")[0].split())
    assert re.match(
        r"[A-Z].*? (fits|probably fits|is a little big|is cleared yet|of these fits)", top
    )
    assert re.search(r"How sure: (sure|fairly sure|unsure)\. Inseam ", top)
    assert re.search(r"\d+\.\d in \(\d+\.\d cm\), give or take \d+\.\d in", top)
    assert "An adult holds the bicycle" in top
    assert "helmet" in top


def test_no_promise_stands_on_a_bicycle_that_is_not_recommended(catalogue: Path) -> None:
    for words in CASES:
        told = run("advise", *words, "--bikes", catalogue, "--json").stdout
        for fit in json.loads(told)["fits"]:
            assert (fit["shown"] in CLEARED) == fit["recommended"], fit["name"]
        text = run("advise", *words, "--bikes", catalogue).stdout
        recommended = {fit["name"] for fit in json.loads(told)["fits"] if fit["recommended"]}
        for line in text.splitlines():
            if "try it:" in line:
                assert line[:22].removesuffix("*").strip().rstrip("*").strip() in recommended


def test_one_unit_comes_first_everywhere(catalogue: Path) -> None:
    told = run("advise", "--stature", "127cm", "--bikes", catalogue, "--units", "cm", "--details")
    assert re.search(r"\d cm \(\d+\.\d in\)", told.stdout)
    assert not re.search(r"\d in \(\d", told.stdout)


def test_details_tell_reasons_cautions_and_what_would_settle(catalogue: Path) -> None:
    words = ("advise", "--inseam", "25.5in", "--bikes", catalogue)
    told = " ".join(run(*words, "--details").stdout.split())
    fits = json.loads(run(*words, "--json").stdout)["fits"]
    assert any(fit["settle_by"] for fit in fits)
    for fit in fits:
        assert f"{fit['name']} ({fit['tyre']}): {fit['shown']}" in told
        assert fit["why"] in told
        assert all(caution["message"] in told for caution in fit["cautions"])
        assert fit["settle_by"] is None or fit["settle_by"] in told
    assert "95 % interval of the inseam" in told
    assert "tape technique" in told


def test_what_is_not_in_stock_is_marked(catalogue: Path) -> None:
    out = [b.name for b in read_catalogue(catalogue) if b.in_stock is False]
    assert out
    result = run("advise", "--stature", "50in", "--bikes", catalogue)
    marked = [line for line in result.stdout.splitlines() if " * " in line]
    assert [line.split(" *")[0].strip() for line in marked] == [
        name for name in out if f"{name} *" in result.stdout
    ]
    assert "* not in stock" in result.stdout


@pytest.mark.parametrize(
    ("inseam", "first"),
    [
        ("25in", "24 gone would fit but is not in stock."),
        ("24.3in", "None of these is cleared yet. First 24 here:"),
        ("19in", "None of these fits."),
    ],
)
def test_text_and_json_name_the_same_bicycle_first(tmp_path: Path, inseam: str, first: str) -> None:
    path = tmp_path / "stock.csv"
    path.write_text(
        "name,tyre,standover_mm,standover_source,in_stock,frame\n"
        "24 gone,24 x 1.75,600,measured,no,level\n"
        f"24 here,24 x 1.75,{620 if inseam == '24.3in' else 760},published,yes,level\n",
        encoding="utf-8",
    )
    words = ("advise", "--inseam", inseam, "--sd", "4mm", "--bikes", path)
    text = " ".join(run(*words).stdout.split())
    assert text.startswith(first)
    told = json.loads(run(*words, "--json").stdout)
    assert ("24 gone would fit but is not in stock" in told["choice"]) == ("24 gone would" in text)
    assert ("24 here may fit" in told["choice"]) == ("First 24 here" in text)
    assert told["how_sure"] in text
    # A bicycle that surely fits but is gone makes nothing unsure.
    assert (told["how_sure"] == "unsure") == (inseam == "24.3in")


def test_only_a_top_tube_can_be_touched(catalogue: Path) -> None:
    """At 28 in the demo's step-through frames stand in the table, beside frames with a tube."""
    result = run("advise", "--inseam", "28in", "--bikes", DEMO_CATALOGUE)
    rows = [line for line in result.stdout.splitlines() if "try it:" in line]
    assert {"no tube" in row for row in rows} == {True, False}
    for row in rows:
        assert ("%" in row) == ("no tube" not in row), row


def test_months_need_an_age(catalogue: Path) -> None:
    without = run("advise", "--inseam", "25.5in", "--bikes", catalogue).stdout
    assert "With --age the table says for how many months" in without
    with_age = run("advise", "--inseam", "25.5in", "--age", "9", "--bikes", catalogue).stdout
    assert "With --age" not in with_age


def test_riding_shoes_are_not_those_of_the_photo(catalogue: Path) -> None:
    def clearance_mm(*words: str) -> float:
        result = run(
            *("measure", SAMPLES / "sheet_2.jpg", "--reference", "sheet", "--heels-down"),
            *("--bikes", catalogue, "--json", *words),
        )
        assert result.exit_code == 0, result.output + result.stderr
        told = json.loads(result.stdout)
        return float(told["fits"][0]["clearance_mm"] + told["fits"][0]["standover_mm"]) - float(
            told["inseam_mm"]
        )

    # A child photographed barefoot rides in shoes, usual ones where nobody measured them.
    assert clearance_mm("--soles", "0") == pytest.approx(15, abs=0.3)
    assert clearance_mm("--soles", "0", "--riding-soles", "1in") == pytest.approx(25.4, abs=0.3)


def test_a_refusal_names_options_and_never_a_click(tmp_path: Path) -> None:
    result = run("measure", SAMPLES / "letter_1.jpg", "--reference", "sheet")
    assert result.exit_code == EXIT_REFUSED
    assert "not measured." in result.stdout
    assert "click" not in result.stdout.lower()
    result = run("measure", SAMPLES / "sheet_1.jpg", "--reference", "a4")
    assert result.exit_code == EXIT_REFUSED
    assert "--points" in result.stdout


@pytest.mark.parametrize(
    "words",
    [
        ("--inseam", "25in", "--sd", "30ft"),
        ("--inseam", "25in", "--sd", "0"),
        ("--inseam", "25in", "--sd", "-3mm"),
        ("--inseam", "25in", "--sd", "1e400mm"),
        ("--inseam", "30ft"),
        ("--trousers", "30ft"),
        ("--lift", "30ft", "--lift-bike", "Brambit 20"),
        ("--stature", "30ft"),
        ("--age", "30ft"),
        ("--inseam", "25in", "--riding-soles", "1ft"),
        ("--inseam", "25in", "--riding-soles", "-1"),
    ],
)
def test_lengths_that_cannot_be_are_wrong_calls_that_name_the_option(
    catalogue: Path, words: tuple[str, ...]
) -> None:
    result = run("advise", *words, "--bikes", catalogue)
    assert result.exit_code == EXIT_WRONG_CALL, result.output
    assert result.stderr.startswith(f"pose-fit: {words[-2] if '--lift' not in words else '--lift'}")


def test_clues_that_contradict_each_other_are_no_result(catalogue: Path) -> None:
    words = ("advise", "--inseam", "27in", "--trousers", "15in", "--bikes", catalogue)
    result = run(*words)
    assert result.exit_code == EXIT_REFUSED, result.output
    assert "too far apart for one child" in " ".join(result.stdout.split())
    assert json.loads(run(*words, "--json").stdout)["inseam_mm"] is None
    together = run("advise", "--inseam", "25in", "--trousers", "23.5in", "--bikes", catalogue)
    assert together.exit_code == 0
    assert "Inseam from all that was given" in " ".join(together.stdout.split())


@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize(
    ("inseam", "age"), [("30cm", "2"), ("45cm", "4"), ("60cm", "9"), ("75cm", "12"), ("95cm", "18")]
)
def test_no_line_is_wider_than_the_screen_whatever_the_names(
    tmp_path: Path, inseam: str, age: str, units: str
) -> None:
    names = [f"Brackenwhistle Mountainbreeze Junior {place}" for place in range(6)]
    rows = [
        f"{name},{size} x 1.75,{standover},unknown,{frame},no"
        for name, size, standover, frame in zip(
            names,
            (12, 16, 20, 24, 26, 26),
            (300, 420, 500, 600, 1000, 700),
            ("level", "step_through", "sloping", "unknown", "level", "sloping"),
            strict=True,
        )
    ]
    path = tmp_path / "long.csv"
    header = "name,tyre,standover_mm,standover_source,frame,in_stock"
    path.write_text("\n".join([header, *rows]), encoding="utf-8")
    for sd in ("3mm", "9cm"):
        words = ("--inseam", inseam, "--sd", sd, "--age", age, "--units", units, "--bikes", path)
        result = run("advise", *words)
        assert result.exit_code == 0, result.output + result.stderr
        assert max(map(len, result.stdout.splitlines())) <= 80


def test_the_terminal_names_the_option_that_carries_out_its_advice() -> None:
    from pose_fit.checks.retake import advice_on
    from pose_fit.report.asks import terminal_advice

    assert "--ruler" in terminal_advice(str(advice_on("reference size")))
    assert "--crotch and --floor" in terminal_advice(str(advice_on("which of several readings")))
    posture = str(advice_on("posture"))
    assert terminal_advice(posture) == posture


def test_nothing_found_tells_how_to_name_what_is_there() -> None:
    told = " ".join(run("measure", SAMPLES / "door_1.jpg").stdout.split())
    assert "--reference door" in told
    assert "--stature" in told


def test_advice_is_for_the_day_that_is_given(catalogue: Path) -> None:
    words = ("advise", "--inseam", "23in", "--age", "8", "--bikes", catalogue, "--json")
    told = json.loads(run(*words, "--today", "2026-03-01").stdout)
    assert told["today"]["on"] == "2026-03-01"


def test_a_bicycle_whose_tube_touches_is_told_apart_from_one_that_is_too_big() -> None:
    """25.5 in touches the tube of the smallest adult 26 in frame; the step-through has none."""
    told = " ".join(run("advise", "--inseam", "25.5in", "--bikes", DEMO_CATALOGUE).stdout.split())
    assert "The top tube touches: Fernock 26 XS, Larkum 26 S." in told
    assert "Too big: Heathwin 26 Step." in told
    assert re.search(r"Outgrown: [^.]*Brambit 20", told)


def test_a_guess_asks_for_the_inseam_first(catalogue: Path) -> None:
    """Age and body height guide, the inseam decides."""
    for words in (("--age", "5"), ("--stature", "50in")):
        first = run("advise", *words, "--bikes", catalogue).stdout.splitlines()[0]
        assert first.endswith("probably fits: measure the inseam first.")


def test_without_a_catalogue_it_says_which_standover_to_look_for() -> None:
    """Inseam 25.5 in, shoe 0.6 in, and at least an inch to spare."""
    result = run("advise", "--inseam", "25.5in")
    assert result.exit_code == 0
    low, high = re.search(r"standover height of (\S+) in .* to (\S+) in", result.stdout).groups()
    assert float(high) == pytest.approx(25.5 + 15 / 25.4 - 1, abs=0.05)
    assert 1.9 < float(high) - float(low) < 2.1
    assert "--bikes" in result.stdout
    inches = run("advise", "--inseam", "25.5in", "--units", "cm").stdout
    assert re.search(r"standover height of \d+\.\d cm", inches)
    assert run("advise", "--lift", "5in", "--lift-bike", "Any").exit_code == EXIT_WRONG_CALL


def test_details_name_each_source_once_and_they_add_up() -> None:
    words = ("measure", SAMPLES / "letter_1.jpg", "--heels-down")
    told = run(*words, "--details", "--units", "cm").stdout
    sources = re.findall(r"^  (\S.*): (\d+\.\d) mm$", told, re.MULTILINE)
    names = [name for name, _ in sources]
    assert len(set(names)) == len(names) > 10
    values = [float(value) for _, value in sources]
    assert values == sorted(values, reverse=True)
    sd_mm = json.loads(run(*words, "--json").stdout)["sd_mm"]
    assert sum(value**2 for value in values) == pytest.approx(sd_mm**2, rel=0.03)


@pytest.mark.parametrize("inseam", ["25.5in", "16in", "34in"])
def test_the_answer_of_a_large_shop_fits_a_screen_too(tmp_path: Path, inseam: str) -> None:
    """Two hundred bicycles: what fits is in the table, and the nearest of the others are named."""
    header, *rows = DEMO_CATALOGUE.read_text("utf-8").splitlines()
    path = tmp_path / "stock.csv"
    numbered = [row.replace(",", f" no {place},", 1) for place in range(8) for row in rows]
    path.write_text("\n".join([header, *numbered]) + "\n", "utf-8")
    result = run("advise", "--inseam", inseam, "--bikes", path)
    assert len(result.stdout.splitlines()) < 30
    told = " ".join(result.stdout.split())
    counts = [int(count) for count in re.findall(r"and (\d+) more", told)]
    named = len(re.findall(r" no \d", told.split("a qualified fitter decides.")[1]))
    assert named + sum(counts) >= len(numbered)


def test_the_nearest_of_those_that_do_not_fit_are_named_first() -> None:
    told = " ".join(run("advise", "--inseam", "25.5in", "--bikes", DEMO_CATALOGUE).stdout.split())
    assert "Outgrown: Brambit 20," in told


@pytest.mark.parametrize(
    ("unit", "other"), [("in", r"\d (?:mm|cm)\b(?!\))"), ("cm", r"\d in\b(?!\))")]
)
def test_details_are_in_the_readers_unit(unit: str, other: str) -> None:
    """What is in another unit stands in brackets behind the reader's; a tyre's marking has its own."""
    words = ("--inseam", "25.5in", "--age", "8", "--units", unit, "--details")
    told = " ".join(run("advise", *words, "--bikes", DEMO_CATALOGUE).stdout.split())
    assert f"Outgrown from an inseam of {'30.8 in' if unit == 'in' else '78.1 cm'}" in told
    # The bead seats of a tyre have a unit of their own.
    told = re.sub(r"Tyre: .*?\.(?= )", "", told)
    assert not re.search(other, told), re.search(other, told)
