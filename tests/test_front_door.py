"""``import pose_fit``: a dozen names that a notebook needs, each loaded when it is first used."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

import pose_fit
from pose_fit.errors import PoseFitError
from tests import samples

ROOT = Path(__file__).parents[1]


def test_the_names_are_sorted_and_all_there() -> None:
    assert pose_fit.__all__ == sorted(pose_fit.__all__)
    for name in pose_fit.__all__:
        assert getattr(pose_fit, name).__name__ == name
    assert set(pose_fit.__all__) <= set(dir(pose_fit))


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'measure_foto'"):
        _ = pose_fit.measure_foto


def wrong_calls():
    import pose_fit as pf

    bikes = pf.read_catalogue(ROOT / "pose_fit" / "data" / "demo_bicycles.csv")
    inseam = pf.inseam_from_tape([640])
    return [
        (lambda: pf.judge(640, bikes), TypeError, r"wanted an Inseam, .* found 640"),
        (lambda: pf.judge(inseam, bikes[0]), TypeError, r"wanted several bicycles, .* \[bicycle\]"),
        (lambda: pf.inseam_from_tape(640), TypeError, r"such as \[640, 645\], found 640"),
        (lambda: pf.inseam_from_tape("640"), TypeError, "found '640'"),
        (lambda: pf.inseam_from_tape(["25in"]), TypeError, r"found \['25in'\]"),
        (lambda: pf.Stated(legwear="jeans"), PoseFitError, "snug, fitted, loose, .* 'jeans'"),
        (lambda: pf.Child(age_y=40), PoseFitError, "found 40; leave it out for anybody else"),
        (lambda: pf.Rider(skill="expert"), PoseFitError, "found 'expert'"),
    ]


@pytest.mark.parametrize("place", range(8))
def test_a_wrong_call_in_a_notebook_says_what_was_wanted_and_found(place: int) -> None:
    call, fault, told = wrong_calls()[place]
    with pytest.raises(fault, match=told):
        call()


def test_an_inseam_prints_as_people_read_it() -> None:
    inseam = pose_fit.Inseam.stated(640.0, 10.0)
    assert str(inseam) == "25.2 in (64.0 cm), give or take 0.8 in (2.0 cm)"


def test_a_family_that_stretches_finds_its_policy_at_the_front_door() -> None:
    import pose_fit as pf

    bikes = pf.read_catalogue(ROOT / "pose_fit" / "data" / "demo_bicycles.csv")
    plain, stretched = (
        {
            fit.bicycle.name
            for fit in pf.judge(pf.inseam_from_tape([550, 550, 550]), bikes, policy=policy)
            if fit.recommended
        }
        for policy in (pf.Policy(), pf.Policy(stretch=True))
    )
    assert stretched - plain == {"Larkum 20"}


def test_nothing_heavy_is_loaded_before_it_is_needed() -> None:
    code = (
        "import sys, pose_fit; from pose_fit.cli.main import app;"
        "print([m for m in ('numpy', 'cv2', 'scipy', 'PIL', 'mediapipe') if m in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert told.stdout.strip() == "[]"


def test_the_module_is_the_command_line() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "pose_fit", "--version"],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    assert re.fullmatch(r"pose-fit \d+\.\d+\.\d+\n", told.stdout)


def test_a_photo_alone_is_an_inseam_or_a_reason_and_both_can_be_printed() -> None:
    found = {
        name: pose_fit.measure_photo(samples.photo(name), pose=samples.pose())
        for name in ("a4_1", "letter_2", "door_1")
    }
    measured = {name: one.inseam for name, one in found.items() if one}
    for name, inseam in measured.items():
        assert "give or take" in str(inseam)
        low_mm, high_mm = inseam.interval95_mm
        assert low_mm < samples.facts(name)["inseam_mm"] < high_mm
    assert measured
    assert str(found["door_1"]).startswith("No printed sheet")


def test_the_example_runs(capsys: pytest.CaptureFixture[str], monkeypatch) -> None:
    blocks = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    monkeypatch.chdir(ROOT)
    for example in blocks:
        exec(example, {})
    told = capsys.readouterr().out
    assert "mm, standard uncertainty" in told
