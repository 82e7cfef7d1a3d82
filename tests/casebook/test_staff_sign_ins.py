"""A sign-in outlives a reload, not a sign-out, a working day or a closed account."""

import pytest
import sqlalchemy as sa

from pose_fit.casebook.book import CaseBook

SECRET = "0123456789abcdef0123"


@pytest.fixture
def member(book):
    return book.staff.add("Kim", "four plain words here")


def test_the_browser_that_signed_in_is_known_in_every_process(book, member, where, clock):
    assert book.sign_ins.member(SECRET) is None
    book.sign_ins.begin(member, SECRET)
    with CaseBook(where, clock=clock) as other:
        assert other.sign_ins.member(SECRET) == member
    assert book.sign_ins.member(SECRET[::-1]) is None


def test_signing_out_ends_it(book, member):
    book.sign_ins.begin(member, SECRET)
    book.sign_ins.end(SECRET)
    assert book.sign_ins.member(SECRET) is None


def test_a_working_day_ends_it_however_busy(book, member, clock):
    book.sign_ins.begin(member, SECRET)
    for _ in range(24):
        clock.move(hours=0.41)
        assert book.sign_ins.member(SECRET) == member
    clock.move(hours=0.2)
    assert book.sign_ins.member(SECRET) is None


def test_half_an_hour_without_a_touch_ends_it_for_a_reload_too(book, member, where, clock):
    book.sign_ins.begin(member, SECRET)
    clock.move(hours=0.45)
    assert book.sign_ins.member(SECRET) == member
    clock.move(hours=0.45)
    with CaseBook(where, clock=clock) as other:
        assert other.sign_ins.member(SECRET) == member
    clock.move(hours=0.51)
    assert book.sign_ins.member(SECRET) is None


def test_a_closed_account_is_out(book, member):
    book.sign_ins.begin(member, SECRET)
    book.staff.retire("Kim")
    assert book.sign_ins.member(SECRET) is None


def test_the_next_person_at_the_same_browser_takes_over(book, member):
    book.sign_ins.begin(member, SECRET)
    noor = book.staff.add("Noor", "four plain words here")
    book.sign_ins.begin(noor, SECRET)
    assert book.sign_ins.member(SECRET) == noor


def test_the_secret_itself_is_not_in_the_book_and_none_signs_nobody_in(book, member, where):
    book.sign_ins.begin(member, SECRET)
    book.sign_ins.begin(member, "")
    assert book.sign_ins.member("") is None
    engine = sa.create_engine(where.replace("postgresql://", "postgresql+psycopg://"))
    with engine.connect() as connection:
        rows = connection.execute(sa.text("SELECT * FROM staff_sign_ins")).all()
    engine.dispose()
    assert len(rows) == 1
    assert SECRET not in str(rows)
