"""A case book on SQLite and on PostgreSQL, and something to put into it."""

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from pose_fit.anthropometry.child import Child
from pose_fit.body.body import LANDMARKS, Body
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord, PicturePoint
from pose_fit.casebook.clue import RemarkClue, StatedClue, TapeClue, TrousersClue
from pose_fit.inseam.from_tape import inseam_from_tape
from pose_fit.inseam.from_trousers import inseam_from_trousers
from pose_fit.inseam.inseam import Inseam
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests.postgres_server import PostgresServer, postgres, postgres_database

__all__ = ["postgres", "postgres_database"]


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where an empty case book can be made, in each kind of database."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'book.db'}"
    server: PostgresServer = request.getfixturevalue("postgres")
    return server.url(request.getfixturevalue("postgres_database"))


class Clock:
    """A clock that stands until it is moved."""

    def __init__(self) -> None:
        self.now = dt.datetime(2026, 3, 2, 9, 30, tzinfo=dt.UTC)

    def __call__(self) -> dt.datetime:
        return self.now

    def move(self, **by: float) -> None:
        self.now += dt.timedelta(**by)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def book(where: str, clock: Clock) -> Iterator[CaseBook]:
    with CaseBook(where, clock=clock) as opened:
        yield opened


@pytest.fixture
def content() -> CaseContent:
    """A case with something in every field."""
    tape = inseam_from_tape([552.0, 556.0])
    return CaseContent(
        label="Zoë & Łukasz",
        child=Child(age_y=7.5, sex="f", stature_mm=1255.0),
        estimate=tape,
        clues=(
            TapeClue(readings_mm=(552.0, 556.0), care="careful", inseam=tape),
            TrousersClue(
                inside_seam_mm=505.0, hem_above_floor_mm=None, inseam=inseam_from_trousers(505.0)
            ),
            StatedClue(source="school nurse", inseam=tape),
            RemarkClue(text="rides a scooter"),
        ),
        photos=(
            PhotoRecord(
                width_px=3000,
                height_px=4000,
                focal_35mm=26.0,
                taken_on=dt.date(2026, 2, 27),
                task=PhotoTask(
                    ReferenceRequest(
                        kind="wheel",
                        size_mm=500.0,
                        width_mm=47.0,
                        points_px=tuple((100.0 + 9 * n, 200.5 - n) for n in range(5)),
                    ),
                    Stated(
                        soles_mm=12.0,
                        legwear="loose",
                        heels_down=True,
                        crotch_px=(1500.0, 2000.5),
                        joints_px=(("left_knee", (1400.0, 2600.0)),),
                    ),
                    Child(age_y=7.5, sex="f"),
                ),
                result=Inseam(tape.length, "photo"),
                reference="wheel",
                points=(PicturePoint("left_hip", 1401.5, 2110.25),),
            ),
            PhotoRecord(
                width_px=1200,
                height_px=1600,
                task=PhotoTask(ReferenceRequest(kind="a4")),
                result=Refusal((Notice("nobody", "No person was found."),), ("More light.",)),
                set_aside=True,
            ),
        ),
        needed_on=dt.date(2026, 12, 24),
    )


@pytest.fixture
def body() -> Body:
    """A body on the picture below, alone: of several people no picture is kept."""
    rng = np.random.default_rng(6)
    return Body(
        passes_px=rng.uniform(0, 200, (6, len(LANDMARKS), 2)),
        visibility=rng.uniform(0, 1, len(LANDMARKS)),
        mask=rng.integers(0, 256, (300, 200)).astype(np.float32) / 255,
        world_m=rng.normal(0, 0.4, (len(LANDMARKS), 3)),
    )


@pytest.fixture
def picture() -> NDArray[np.uint8]:
    """(300, 200, 3) pixels that hardly compress, so that their JPEG is long and its bytes rare."""
    return np.random.default_rng(5).integers(0, 256, (300, 200, 3), dtype=np.uint8)
