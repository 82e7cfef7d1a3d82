import datetime as dt

import pytest

from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.clue import RemarkClue, StatedClue
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked
from pose_fit.casebook.events import ClueAdded
from pose_fit.casebook.query import CaseQuery
from pose_fit.errors import CaseBookError
from pose_fit.inseam.inseam import Inseam

OTHER = Inseam.stated(570.0, 9.0)


@pytest.fixture
def filled(book, clock):
    """Cases by label, a day apart."""
    cases = {}
    for label in ("Zoë", "ÅSE Strand", "100% Pedal_Fun", "Straße 5", ""):
        cases[label] = book.receive(CaseContent(estimate=OTHER, label=label), by="family")
        clock.move(days=1)
    book.act(cases["Zoë"], Accepted("the grey wall helped"), by="Ada")
    book.act(cases["ÅSE Strand"], PhotoAsked("feet are cut off"), by="Bo")
    book.act(cases["Straße 5"], Overridden(560.0, 9.0, "we taped it"), by="Ada")
    book.act(cases[""], ClueAdded(RemarkClue(text="Left-handed tuba player"), OTHER), by="Bo")
    return cases


def _labels(book, query):
    return [case.content.label for case in book.find(query)]


@pytest.mark.parametrize(
    ("query", "labels"),
    [
        (CaseQuery(), ["", "Straße 5", "100% Pedal_Fun", "ÅSE Strand", "Zoë"]),
        (CaseQuery(label="åse"), ["ÅSE Strand"]),
        (CaseQuery(label="ZOË"), ["Zoë"]),
        (CaseQuery(label="zoe\u0308"), ["Zoë"]),
        (CaseQuery(label="strasse"), ["Straße 5"]),
        (CaseQuery(label="stra"), ["Straße 5", "ÅSE Strand"]),
        (CaseQuery(label="%"), ["100% Pedal_Fun"]),
        (CaseQuery(label="_"), ["100% Pedal_Fun"]),
        (CaseQuery(label="tuba"), []),
        (CaseQuery(text="TUBA left"), [""]),
        (CaseQuery(text="wall ada"), ["Zoë"]),
        (CaseQuery(text="feet zoë"), []),
        (CaseQuery(text="taped"), ["Straße 5"]),
        (CaseQuery(text="'; DROP TABLE cases; --"), []),
        (CaseQuery(states=("accepted", "overridden")), ["Straße 5", "Zoë"]),
        (CaseQuery(states=("waiting",), text="tuba"), [""]),
        (CaseQuery(states=("photo_asked",), label="zoë"), []),
    ],
)
def test_cases_are_found(book, filled, query, labels):
    assert _labels(book, query) == labels
    assert book.count(query) == len(labels)


def test_cases_are_found_by_the_day_they_came(book, filled):
    start = dt.datetime(2026, 3, 3, 9, 30, tzinfo=dt.UTC)
    query = CaseQuery(received_from=start, received_before=start + dt.timedelta(days=2))
    assert _labels(book, query) == ["100% Pedal_Fun", "ÅSE Strand"]
    tokyo = dt.timezone(dt.timedelta(hours=9))
    same = CaseQuery(received_from=start.astimezone(tokyo), received_before=query.received_before)
    assert _labels(book, same) == _labels(book, query)


def test_pages_of_a_long_list(book, filled):
    whole = book.find()
    assert book.find(limit=2) + book.find(limit=2, offset=2) + book.find(offset=4) == whole


def test_sources_of_clues_are_searched(book):
    clue = StatedClue(source="Grandma’s tape", inseam=OTHER)
    book.receive(CaseContent(estimate=OTHER, clues=(clue,)), by="family")
    assert book.count(CaseQuery(text="grandma")) == 1


def test_a_query_that_makes_no_sense_is_refused():
    with pytest.raises(CaseBookError, match="state: wanted one of waiting, photo_asked"):
        CaseQuery(states=("lost",))
    with pytest.raises(CaseBookError, match="time zone"):
        CaseQuery(received_from=dt.datetime(2026, 1, 1))
