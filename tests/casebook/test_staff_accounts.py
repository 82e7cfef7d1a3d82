import datetime as dt
import re
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import argon2
import pytest
import sqlalchemy as sa

from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.staff_accounts import (
    FREE_FAILURES,
    LONGEST_WAIT,
    PASSPHRASE_LENGTH,
    wait_after,
)
from pose_fit.errors import CaseBookError, SignInError

PASSPHRASE = "marmalade on a tandem"
WRONG = "marmalade on a tricycle"


@pytest.fixture
def true_staff(book):
    book.staff.add("Ada Quill", PASSPHRASE)
    return book.staff


@pytest.fixture
def staff(book):
    """The same with a cheap hash, for what does not turn on the hash."""
    book.staff._hasher = argon2.PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    book.staff.add("Ada Quill", PASSPHRASE)
    return book.staff


def _fail(staff, name, times):
    for _ in range(times):
        with pytest.raises(SignInError, match="not right"):
            staff.sign_in(name, WRONG)


def test_the_right_passphrase_signs_in_however_the_name_is_written(staff, clock):
    member = staff.sign_in("  ADA   quill", PASSPHRASE)
    assert (member.name, member.added_at) == ("Ada Quill", clock.now)
    assert staff.members() == (member,)


def test_letters_composed_in_another_way_are_the_same_passphrase(staff):
    staff.add("Bo", "caf\u00e9 au lait, please")
    assert staff.sign_in("Bo", "cafe\u0301 au lait, please").name == "Bo"


@pytest.mark.parametrize(
    ("name", "passphrase"),
    [
        ("Ada Quill", WRONG),
        ("Ada Quill", ""),
        ("Ada Quill", PASSPHRASE + " "),
        ("Ada Quill", PASSPHRASE.upper()),
        ("nobody", PASSPHRASE),
        ("", ""),
        ("\x00\ud800", "\x00\ud800"),
        ("x" * 10_000, "y" * 100_000),
    ],
)
def test_anything_else_is_refused_in_the_same_words(staff, name, passphrase):
    with pytest.raises(SignInError) as caught:
        staff.sign_in(name, passphrase)
    assert str(caught.value) == "the name or the passphrase is not right"


@pytest.mark.parametrize("name", ["Ada Quill", "nobody", "Retired Rita"])
def test_one_hash_is_checked_whether_or_not_the_name_exists(true_staff, monkeypatch, name):
    """The costly step, by which alone the time could tell, is the same for all."""
    true_staff.add("Retired Rita", PASSPHRASE)
    true_staff.retire("Retired Rita")
    true_staff.sign_in("Ada Quill", PASSPHRASE)
    checked = []
    verify = argon2.PasswordHasher.verify

    def watched(self, hashed, passphrase):
        checked.append(argon2.extract_parameters(hashed))
        return verify(self, hashed, passphrase)

    monkeypatch.setattr(argon2.PasswordHasher, "verify", watched)
    with pytest.raises(SignInError):
        true_staff.sign_in(name, WRONG)
    assert checked == [argon2.extract_parameters(argon2.PasswordHasher().hash("x"))]


def test_hashes_are_argon2id_with_the_memory_of_rfc_9106(true_staff, where):
    """RFC 9106 section 4, second recommended option: t=3, 64 MiB, 4 lanes, 128-bit salt."""
    engine = sa.create_engine(where.replace("postgresql://", "postgresql+psycopg://"))
    with engine.connect() as connection:
        [hashed] = connection.execute(sa.text("SELECT passphrase_hash FROM staff")).scalars()
    engine.dispose()
    assert re.match(r"\$argon2id\$v=19\$m=65536,t=3,p=4\$", hashed)
    assert argon2.extract_parameters(hashed).salt_len == 16


def test_no_plain_text_reaches_the_files(tmp_path):
    typed_as_name = "my secret typed into the wrong field"
    with CaseBook(tmp_path / "book.db") as book:
        book.staff.add("Ada", PASSPHRASE)
        book.staff.sign_in("Ada", PASSPHRASE)
        for name, passphrase in (("Ada", WRONG), (typed_as_name, WRONG)):
            with pytest.raises(SignInError):
                book.staff.sign_in(name, passphrase)
        stored = b"".join(path.read_bytes() for path in Path(tmp_path).iterdir())
    assert b"Ada" in stored
    for secret in (PASSPHRASE, WRONG, typed_as_name):
        assert secret.encode() not in stored


def test_waits_double_up_to_a_quarter_of_an_hour():
    assert [wait_after(failures).total_seconds() for failures in range(14)] == (
        [0] * (FREE_FAILURES + 1) + [15, 30, 60, 120, 240, 480, 900, 900, 900]
    )
    assert wait_after(10**9) == LONGEST_WAIT


@pytest.mark.parametrize("name", ["Ada Quill", "nobody"])
def test_failures_in_a_row_must_wait_even_with_the_right_passphrase(staff, clock, name):
    _fail(staff, name, FREE_FAILURES + 1)
    with pytest.raises(SignInError, match="too many failures; try again in 15 s"):
        staff.sign_in(name, PASSPHRASE)
    clock.move(seconds=14)
    with pytest.raises(SignInError, match="try again in 1 s"):
        staff.sign_in(name, WRONG)
    clock.move(seconds=1)
    _fail(staff, name, 1)
    with pytest.raises(SignInError, match="try again in 30 s"):
        staff.sign_in(name, PASSPHRASE)


def test_waiting_is_for_the_name_that_failed_and_ends_with_success(staff, clock):
    staff.add("Bo", PASSPHRASE)
    _fail(staff, "Ada Quill", FREE_FAILURES + 1)
    assert staff.sign_in("Bo", PASSPHRASE).name == "Bo"
    clock.move(seconds=15)
    assert staff.sign_in("ada quill", PASSPHRASE).name == "Ada Quill"
    _fail(staff, "Ada Quill", FREE_FAILURES + 1)


def test_failures_are_forgotten_after_a_day(staff, clock):
    _fail(staff, "Ada Quill", FREE_FAILURES)
    clock.move(hours=25)
    _fail(staff, "Ada Quill", FREE_FAILURES + 1)


def test_guessing_from_many_sides_at_once_gains_nothing(staff):
    def guess(_):
        try:
            staff.sign_in("Ada Quill", WRONG)
        except SignInError as refused:
            return str(refused)

    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(guess, range(16)))
    assert sum("not right" in answer for answer in answers) == FREE_FAILURES + 1
    assert sum("too many" in answer for answer in answers) == 16 - FREE_FAILURES - 1


def test_failures_count_across_programs(where, clock):
    with CaseBook(where, clock=clock) as one, CaseBook(where, clock=clock) as other:
        one.staff.add("Ada", PASSPHRASE)
        _fail(one.staff, "Ada", 3)
        _fail(other.staff, "Ada", FREE_FAILURES - 2)
        with pytest.raises(SignInError, match="too many"):
            one.staff.sign_in("Ada", PASSPHRASE)


def test_changing_needs_the_old_passphrase(staff):
    with pytest.raises(SignInError):
        staff.change_passphrase("Ada Quill", old=WRONG, new="another fine day out")
    staff.change_passphrase("Ada Quill", old=PASSPHRASE, new="another fine day out")
    assert staff.sign_in("Ada Quill", "another fine day out")
    with pytest.raises(SignInError):
        staff.sign_in("Ada Quill", PASSPHRASE)


def test_who_retires_cannot_sign_in_until_reset(staff):
    staff.retire("ada quill")
    assert staff.members() == ()
    with pytest.raises(SignInError):
        staff.sign_in("Ada Quill", PASSPHRASE)
    staff.reset_passphrase("Ada Quill", "back from a long trip")
    assert staff.sign_in("Ada Quill", "back from a long trip")


@pytest.mark.parametrize(
    ("name", "passphrase", "message"),
    [
        ("ADA QUILL", PASSPHRASE, "there is an account"),
        (" ", PASSPHRASE, "name of the account: wanted some text"),
        ("Bo", "short", "wanted 12 to 500 characters, found 5"),
        ("Bo", "x" * 501, "wanted 12 to 500 characters, found 501"),
        ("Bartholomew Birch", "bartholomew  BIRCH", "something else than the name"),
    ],
)
def test_unusable_accounts_are_refused(staff, name, passphrase, message):
    with pytest.raises(CaseBookError, match=message):
        staff.add(name, passphrase)


def test_unknown_accounts_cannot_be_changed(staff):
    for change in (lambda: staff.retire("Bo"), lambda: staff.reset_passphrase("Bo", PASSPHRASE)):
        with pytest.raises(CaseBookError, match="there is no account 'Bo'"):
            change()


def test_a_weaker_hash_is_renewed_at_the_next_sign_in(true_staff, where):
    weak = argon2.PasswordHasher(time_cost=1, memory_cost=1024, parallelism=1).hash(PASSPHRASE)
    engine = sa.create_engine(where.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as connection:
        connection.execute(sa.text("UPDATE staff SET passphrase_hash = :weak"), {"weak": weak})
    assert true_staff.sign_in("Ada Quill", PASSPHRASE)
    with engine.connect() as connection:
        [hashed] = connection.execute(sa.text("SELECT passphrase_hash FROM staff")).scalars()
    engine.dispose()
    assert not argon2.PasswordHasher().check_needs_rehash(hashed)
    assert true_staff.sign_in("Ada Quill", PASSPHRASE)


def test_the_longest_passphrase_is_usable(staff):
    longest = "é" * PASSPHRASE_LENGTH[1]
    staff.add("Bo", longest)
    assert staff.sign_in("Bo", longest).added_at.tzinfo == dt.UTC
    with pytest.raises(SignInError):
        staff.sign_in("Bo", longest + "é")
