"""The staff side: sign-in, one case, decisions, two people at once, deleting."""

import datetime as dt
import re
import time
from pathlib import Path
from types import SimpleNamespace

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.texts.case_action_texts import ACTIONS, VERDICTS
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.pairs_page_texts import PAIRS_PAGE
from pose_fit.app.texts.staff_texts import ACCOUNTS, LISTS, STAFF
from pose_fit.app.texts.stock_texts import STOCK
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.card.from_fit import fit_card
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked
from pose_fit.casebook.present import inseam_wanted
from pose_fit.fit.choice import rank
from pose_fit.fit.judge import judge
from pose_fit.fit.robust import most_robust
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal

from .app_page import use_browser
from .test_texts import leaves

PASSPHRASE = "four plain words here"


@pytest.fixture
def place(tmp_path, monkeypatch) -> Path:
    place = tmp_path / "book" / "cases.db"
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", str(place))
    return place


@pytest.fixture
def book(place):
    place.parent.mkdir()
    with CaseBook(place) as book:
        book.staff.add("Kim", PASSPHRASE)
        book.staff.add("Noor", PASSPHRASE)
        yield book


def sign_in(page, name: str = "Kim"):
    page.widget("text_input", "Name").set_value(name)
    page.widget("text_input", "Passphrase").set_value(PASSPHRASE)
    return page.press("Sign in")


def open_first(page):
    return page.press("**Case ")


def choose(page, what: str):
    """A decision, or something from the list of what else can be done."""
    label = "Your decision" if what in VERDICTS else "More"
    return page.enter("segmented_control", label, what)


def take_in(book, label="order 17", estimate=Inseam.stated(600, 8)):  # noqa: B008 - frozen
    return book.receive(CaseContent(estimate=estimate, label=label), by="family")


def test_the_first_account_needs_the_code_from_the_terminal(place, open_page, capfd):
    page = open_page("staff")
    assert "setup code" in page.text
    page.widget("text_input", "Setup code").set_value("guess")
    page.widget("text_input", "Your name").set_value("Kim")
    page.widget("text_input", "Passphrase, at least").set_value(PASSPHRASE)
    page.press("Make the account")
    assert "not the setup code" in page.text
    code = re.search(r"staff account: (\w+)", capfd.readouterr().err).group(1)
    page.widget("text_input", "Setup code").set_value(code)
    page.press("Make the account")
    assert "Signed in as **Kim**" in page.text


def test_a_wrong_passphrase_shows_nothing_of_the_book(book, open_page):
    take_in(book)
    page = open_page("staff")
    page.widget("text_input", "Name").set_value("Kim")
    page.widget("text_input", "Passphrase").set_value("something else here")
    page.press("Sign in")
    assert "is not right" in page.text
    assert "order 17" not in page.text


def test_signing_out_forgets_what_was_open(book, open_page):
    take_in(book)
    page = open_first(sign_in(open_page("staff")))
    assert "Case 1, order 17" in page.text
    page.press("Sign out")
    page.run()
    assert "order 17" not in page.text
    assert "Signed in" not in page.text


def test_a_closed_account_is_out_at_once(book, open_page):
    page = sign_in(open_page("staff"))
    book.staff.retire("Kim")
    assert "Signed in" not in page.run().run().text


def test_accepting_keeps_the_estimate_with_note_and_name(book, open_page):
    case = take_in(book)
    page = choose(open_first(sign_in(open_page("staff"))), "accept")
    page.widget("text_input", "Note").set_value("looks right")
    page.press("Accept the estimate")
    decision = book.case(case.case_id).content.decision
    assert decision.verdict == Accepted("looks right")
    assert decision.by == "Kim"
    assert "accepted the estimate: looks right" in page.text


def test_a_present_has_the_same_order_in_the_shop_as_on_the_gift_page(book, open_page, monkeypatch):
    """On its day, the likeliest to fit first: the child cannot try it."""
    cards = []

    def kept(*given, **named):
        cards.append(fit_card(*given, **named))
        return cards[-1]

    monkeypatch.setattr("pose_fit.app.views.card_view.fit_card", kept)
    book.stock.replace(DEMO_CATALOGUE.read_text(), by="Kim", based_on=None)
    stock = book.stock.state().bicycles
    now, day = Inseam.stated(635, 10), dt.date.today() + dt.timedelta(days=120)
    child = Child(age_y=8.0)
    content = CaseContent(estimate=now, label="order 17", child=child, needed_on=day)
    case = book.receive(content, by="family")
    then = inseam_wanted(case, now)
    fits = judge(then, stock)
    first = most_robust(fits).fit.bicycle.name
    assert rank(fits)[0].bicycle.name != first
    page = open_first(sign_in(open_page("staff")))
    assert f"First to try: **{first}**" in page.text
    assert "Wanted for" in page.text
    choose(page, "accept")
    page.press("Accept the estimate")
    assert cards[-1].bicycles[0].name == first
    assert cards[-1].inseam == then
    assert cards[-1].inseam_on == day


def test_a_refused_picture_cannot_be_accepted_but_answered_with_a_ready_text(book, open_page):
    refused = Refusal((Notice("nobody", "No person was found in the picture."),), ("More light.",))
    case = take_in(book, estimate=refused)
    page = choose(open_first(sign_in(open_page("staff"))), "accept")
    assert "no estimate to accept" in page.text
    choose(page, "ask")
    text = page.widget("text_area", "Text for the family").value
    assert case.reply_code in text
    assert "More light." in text
    page.press("Ask for another picture now")
    assert isinstance(book.case(case.case_id).content.decision.verdict, PhotoAsked)


def test_overriding_needs_a_reason(book, open_page):
    case = take_in(book)
    page = choose(open_first(sign_in(open_page("staff"))), "override")
    page.enter("text_input", "Inseam", "24")
    page.press("Answer with this number")
    assert "wanted some text" in page.text
    assert book.case(case.case_id).content.decision is None
    page.widget("text_input", "Reason").set_value("measured in the shop")
    page.press("Answer with this number")
    verdict = book.case(case.case_id).content.decision.verdict
    assert isinstance(verdict, Overridden)
    assert verdict.inseam_mm == pytest.approx(609.6)
    assert verdict.reason == "measured in the shop"


def test_a_tape_reading_by_staff_joins_the_estimate(book, open_page):
    case = take_in(book)
    page = choose(open_first(sign_in(open_page("staff"))), "clue")
    page.enter("text_input", "Reading 1", "24 in")
    page.press("Add it")
    content = book.case(case.case_id).content
    assert content.clues[0].readings_mm == pytest.approx((609.6,))
    assert 600 < content.estimate.mean_mm < 609.6
    assert content.estimate.sd_mm < 8


#: 30 in of leg: no child of four has it, many of twelve do.
TOO_LONG = "30 in"


@pytest.mark.parametrize(
    ("more", "field", "button"),
    [
        ("clue", "Reading 1", "Add it"),
        ("tape", "Reading 1", "Keep the tape"),
        ("override", "Inseam", "Answer with this number"),
    ],
)
def test_legs_that_no_such_child_has_are_not_kept_until_number_and_child_go_together(
    book, open_page, more, field, button
):
    """The family's page names no bicycle by them either."""
    content = CaseContent(estimate=Inseam.stated(440, 8), label="order 17", child=Child(age_y=4.0))
    case = book.receive(content, by="family")
    page = choose(open_first(sign_in(open_page("staff"))), more)
    page.enter("text_input", field, TOO_LONG)
    assert page.text.count("Is this the inseam?") == 1
    assert page.widget("button", button).disabled
    choose(page, "correct")
    assert page.widget("number_input", "Age in years").value == 4.0
    page.widget("number_input", "Age in years").set_value(12.0)
    page.press("Save")
    assert book.case(case.case_id).content.child.age_y == 12.0
    choose(page, more)
    page.enter("text_input", field, TOO_LONG)
    assert "Is this the inseam?" not in page.text
    assert not page.widget("button", button).disabled


@pytest.mark.parametrize(("more", "button"), [("clue", "Add it"), ("tape", "Keep the tape")])
def test_readings_too_far_apart_are_not_kept_until_the_slip_is_mended(
    book, open_page, more, button
):
    """Nobody knows which of them is wrong, so their average is no tape."""
    take_in(book)
    page = choose(open_first(sign_in(open_page("staff"))), more)
    page.enter("text_input", "Reading 1", "24 in")
    page.enter("text_input", "Reading 2", "21 in")
    assert "take a third" in page.text
    assert page.widget("button", button).disabled
    page.enter("text_input", "Reading 3", "24 1/8 in")
    assert "Reading 2" in page.text
    assert page.widget("button", button).disabled
    page.enter("text_input", "Reading 2", "23 7/8")
    assert not page.widget("button", button).disabled


def test_a_correction_that_leaves_the_child_alone_does_not_round_the_height(book, open_page):
    child = Child(age_y=6.3, sex="f", stature_mm=1161.7)
    content = CaseContent(estimate=Inseam.stated(520, 8), label="order 17", child=child)
    case = book.receive(content, by="family")
    page = choose(open_first(sign_in(open_page("staff"))), "correct")
    page.widget("text_input", "Name or number").set_value("order 18")
    page.press("Save")
    content = book.case(case.case_id).content
    assert (content.label, content.child) == ("order 18", child)


def test_two_people_on_one_case_lose_nothing(book, open_page):
    case = take_in(book)
    kim = choose(open_first(sign_in(open_page("staff"), "Kim")), "accept")
    noor = choose(open_first(sign_in(open_page("staff"), "Noor")), "override")
    kim.press("Accept the estimate")
    noor.enter("text_input", "Inseam", "24")
    assert "Somebody changed this case" in noor.text
    noor.widget("text_input", "Reason").set_value("measured in the shop")
    noor.press("Answer with this number")
    assert isinstance(book.case(case.case_id).content.decision.verdict, Accepted)
    assert "Kim was faster" in noor.text
    assert "measured in the shop" in noor.text
    noor.press("Do it to this version too")
    decision = book.case(case.case_id).content.decision
    assert isinstance(decision.verdict, Overridden)
    assert decision.by == "Noor"
    assert "was faster" not in noor.run().text


def test_deleting_asks_for_the_number_and_leaves_nothing(book, open_page, place):
    take_in(book, label="Zephyrine order")
    page = choose(open_first(sign_in(open_page("staff"))), "delete")
    assert page.widget("button", "Delete for good").disabled
    page.enter("text_input", "Type 1", "1")
    page.press("Delete for good")
    assert "Case 1 is deleted" in page.text
    assert "Zephyrine" not in page.run().text
    assert book.count() == 0
    for file in place.parent.iterdir():
        assert b"Zephyrine" not in file.read_bytes()


def test_finding_by_word_and_a_table_of_what_was_found(book, open_page):
    take_in(book, label="alder")
    take_in(book, label="birch")
    page = sign_in(open_page("staff"))
    page.enter("segmented_control", "Part of the book", "find")
    page.enter("text_input", "Words in names", "birch")
    assert "**1** found" in page.text
    assert "alder" not in page.text
    page.press("Prepare a table")
    assert book.history(2)[-1].what.what == "table"
    assert book.history(1)[-1].what.__class__.__name__ == "Received"


def test_accounts_are_added_and_closed(book, open_page):
    page = sign_in(open_page("staff"))
    page.enter("segmented_control", "Part of the book", "accounts")
    page.widget("text_input", "Name, or e-mail").set_value("Sasha")
    page.widget("text_input", "First passphrase").set_value("short")
    page.press("Add")
    assert "wanted 12 to" in page.text
    page.widget("text_input", "Name, or e-mail").set_value("Sasha")
    page.widget("text_input", "First passphrase").set_value(PASSPHRASE)
    page.press("Add")
    assert {member.name for member in book.staff.members()} == {"Kim", "Noor", "Sasha"}
    page.press("Close this account")
    assert {member.name for member in book.staff.members()} == {"Kim", "Sasha"}


def test_a_book_that_cannot_be_opened_is_said_without_a_traceback(monkeypatch, open_page):
    monkeypatch.setenv("POSE_FIT_CASE_BOOK", "postgresql://nobody@127.0.0.1:1/none")
    assert "cannot be used" in open_page("staff").text


def test_a_case_has_its_own_address(book, open_page):
    case = take_in(book)
    page = open_page("staff")
    page.app.query_params["case"] = str(case.case_id)
    assert "order 17" not in page.run().text
    sign_in(page)
    assert "Case 1, order 17" in page.text
    page.press("Back to the list")
    assert "case" not in page.app.query_params
    page.press("**Case ")
    assert page.app.query_params["case"] in ("1", ["1"])


@pytest.mark.parametrize("told", ["77", "one", "99999999999999999999"])
def test_an_address_of_no_case_is_said_and_the_list_shown(book, open_page, told):
    take_in(book)
    page = sign_in(open_page("staff"))
    page.app.query_params["case"] = told
    page.run()
    assert "no case" in page.text
    assert page.widget("button", "**Case 1, order 17")


def test_staff_stay_signed_in_over_a_reload_until_they_sign_out(book, open_page, monkeypatch):
    cookies = {"pose_fit_browser": "a-secret-of-this-browser"}
    monkeypatch.setattr(
        "pose_fit.app.shop.sign_in.st.context",
        SimpleNamespace(cookies=cookies, locale="en-US", timezone=None),
    )
    sign_in(open_page("staff"))
    again = open_page("staff")
    assert "Signed in as **Kim**" in again.text
    again.press("Sign out")
    assert "Signed in" not in open_page("staff").text
    # Another browser was never in.
    sign_in(open_page("staff"))
    cookies["pose_fit_browser"] = "a-secret-of-another-browser"
    assert "Signed in" not in open_page("staff").text


class Provided(dict):
    """What Streamlit tells of a visitor whom an OpenID provider vouches for."""

    is_logged_in = True


def provide(monkeypatch, told) -> None:
    """The shop's provider vouches for somebody at this browser."""
    monkeypatch.setattr("pose_fit.app.shop.sign_in.st.user", Provided(told))
    monkeypatch.setattr("pose_fit.app.shop.sign_in.st.secrets", {"auth": {}})
    monkeypatch.setattr("pose_fit.app.shop.sign_in.st.logout", lambda: None)


@pytest.mark.parametrize(
    ("told", "is_in"),
    [
        ({"email": "noor@shop.example", "email_verified": True}, True),
        ({"email": "NOOR@shop.example"}, True),
        ({"email": "noor@shop.example", "email_verified": False}, False),
        ({"email": "somebody@else.example", "email_verified": True}, False),
        ({}, False),
    ],
)
def test_the_shops_own_sign_in_lets_in_only_who_is_on_the_list(
    book, open_page, monkeypatch, told, is_in
):
    book.staff.add("noor@shop.example", PASSPHRASE)
    provide(monkeypatch, told | {"iat": time.time()})
    page = open_page("staff")
    assert ("Signed in as" in page.text) is is_in
    assert ("not on the staff list" in page.text) is not is_in


@pytest.mark.parametrize("secret", ["a-secret-of-this-browser", None])
def test_the_shops_own_sign_in_ends_after_half_an_hour_without_a_touch(
    book, open_page, monkeypatch, secret
):
    """Also for a reload, though the browser keeps the provider's word much longer."""
    use_browser(monkeypatch, secret)
    book.staff.add("noor@shop.example", PASSPHRASE)
    given = dt.datetime.now(dt.UTC)
    provide(monkeypatch, {"email": "noor@shop.example", "iat": given.timestamp()})
    ended = []
    monkeypatch.setattr("pose_fit.app.shop.sign_in.st.logout", lambda: ended.append(True))

    def wait(minutes):
        """As the clocks show it that long after the sign-in."""
        moment = given + dt.timedelta(minutes=minutes)
        monkeypatch.setattr(case_book().sign_ins, "_clock", lambda: moment)
        clock = SimpleNamespace(time=moment.timestamp, monotonic=lambda: 60.0 * minutes)
        monkeypatch.setattr("pose_fit.app.shop.sign_in.time", clock)

    wait(0)
    page = open_page("staff")
    wait(20)
    assert "Signed in as" in page.run().text
    wait(40)
    # Touched 20 minutes ago: the open page stays, and so does a reload that the browser can prove.
    assert "Signed in as" in page.run().text
    assert ("Signed in as" in open_page("staff").text) is (secret is not None)
    ended.clear()
    wait(75)
    for left in (page.run(), open_page("staff")):
        assert "Signed in as" not in left.text
    assert ended
    # At the provider again, which vouches anew.
    provide(monkeypatch, {"email": "noor@shop.example", "iat": given.timestamp() + 75 * 60})
    assert "Signed in as" in open_page("staff").text


#: What each page says in English, and therefore no page in Spanish; long enough to be a sentence.
ENGLISH = {
    text.split(".")[0]
    for table in (STAFF, LISTS, ACCOUNTS, CASE, ACTIONS, STOCK, PAIRS_PAGE)
    for _, text in leaves(table["en"])
    if len(text.split(".")[0]) > 12 and "{" not in text.split(".")[0]
}


def said(page) -> str:
    kinds = ("button", "text_input", "radio", "text_area", "segmented_control", "date_input")
    labels = [w.label for kind in kinds for w in getattr(page.app, kind)]
    return "\n".join([page.text, *labels])


def test_in_spanish_no_page_of_the_shop_says_an_english_sentence(book, open_page):
    take_in(book)
    page = open_page("staff")
    page.app.session_state["field.language"] = "es"
    page.run()
    page.widget("text_input", "Nombre").set_value("Kim")
    page.widget("text_input", "Contraseña").set_value(PASSPHRASE)
    page.press("Entrar")
    read = [said(page)]
    for part in ("find", "pairs", "stock", "accounts"):
        read.append(said(page.enter("segmented_control", "Parte del libro", part)))
        if part == "stock":
            bad_list = b"name,tyre,standover_mm\nPipwren,47-406,alto\n"
            page.upload("Lista de sus bicicletas", ("lista.csv", bad_list, "text/csv"))
            read.append(said(page.press("Usar esta lista")))
            assert "línea 2, columna standover_mm: debe ser una longitud" in read[-1]
    page.enter("segmented_control", "Parte del libro", "waiting")
    read.append(said(page.press("**Caso 1")))
    for verdict in ("ask", "override", "accept"):
        read.append(said(page.enter("segmented_control", "Su decisión", verdict)))
    for more in ("tape", "clue", "correct", "delete"):
        read.append(said(page.enter("segmented_control", "Más", more)))
    read.append(said(page.press("Aceptar la medida")))
    assert "Libro de casos" in read[0]
    assert [(text, where[:200]) for text in ENGLISH for where in read if text in where] == []
