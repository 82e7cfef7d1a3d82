"""Send what was measured to the shop, who checks it and answers."""

import datetime as dt
import hashlib
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.case_content import photo_records
from pose_fit.app.inputs.photo_choice import remove_picture
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import Fields, remembered, shots
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.texts.clue_texts import SENDING, SendingTexts
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.turns import in_turn
from pose_fit.app.views.messages import fault_text
from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.clue import Clue
from pose_fit.casebook.events import PhotoReceived
from pose_fit.casebook.kept_picture import Picture, shows_several
from pose_fit.errors import CaseBookError, InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.privacy.hide_faces import picture_of_one
from pose_fit.refusal import Notice, Refusal

__all__ = ["forget_sent_pictures", "is_sent", "offer_sending"]

_NOTHING: Final = Refusal((Notice("nothing_given", "Nothing was measured."),))


@dataclass(frozen=True, slots=True)
class _Sent:
    """What one measurement became; ``with_picture`` whether its picture went with it."""

    reply_code: str
    with_picture: bool


@dataclass(frozen=True, slots=True)
class _Letter:
    """What is sent: the case's content, and the outcome of each of its photos."""

    content: CaseContent
    outcomes: tuple[Outcome, ...]

    @property
    def mark(self) -> str:
        """The same for the same measurement, whatever it is called."""
        told = self.content
        return hashlib.sha256(
            repr((told.estimate, told.clues, told.photos, told.child, told.needed_on)).encode()
        ).hexdigest()


def offer_sending(
    outcomes: Sequence[Outcome],
    clues: Sequence[Clue],
    child: Child,
    *,
    estimate: Inseam | None,
    page: str,
    needed_on: dt.date | None = None,
) -> None:
    """The form, and the reply code once it was sent.

    ``estimate`` is what was measured altogether, as of today; None where nothing was. One
    measurement makes one case, however often it is sent.
    """
    say = in_language(SENDING)
    if not outcomes and not clues:
        st.caption(say.measure_first)
        return
    fields = Fields(f"{page}.send")
    sent_before = _sent_before(page)
    # Enter in a field does not send: the box below it may still be wanted.
    with st.form(f"{page}.send", border=False, enter_to_submit=False):
        st.text_input(
            say.label, placeholder=say.label_example, max_chars=200, key=fields.key("label")
        )
        st.text_input(say.earlier, key=fields.key("earlier"))
        keep = st.checkbox(say.keep, help=say.keep_help, key=fields.key("keep"))
        st.caption(say.unseen)
        pressed = st.form_submit_button(say.send, type="primary")
    letter = _letter(outcomes, clues, child, estimate, fields.value("label", ""), needed_on)
    before = sent_before.get(letter.mark)
    if pressed:
        if before is not None and (before.with_picture or not keep):
            st.info(say.sent_before)
        else:
            earlier = fields.value("earlier", "").strip() or (before.reply_code if before else "")
            code = _send(letter, earlier, say, keep=keep)
            if code is not None:
                before = sent_before[letter.mark] = _Sent(code, keep)
                _sent_pictures(page).update(outcome.shot.key for outcome in letter.outcomes)
    if before is not None:
        st.success(say.sent.format(code=before.reply_code))


def is_sent(page: str) -> bool:
    """Whether something of this page was sent, so that its reply code is to be seen."""
    return bool(_sent_before(page))


def _sent_before(page: str) -> dict[str, _Sent]:
    """What was sent from a page, by the mark of its letter."""
    empty: dict[str, _Sent] = {}
    return remembered(f"sent.{page}", lambda: empty)


def forget_sent_pictures(page: str) -> None:
    """Make room for another picture: those that the shop has already leave the page."""
    for key in _sent_pictures(page) & set(shots(page)):
        remove_picture(page, shots(page)[key])


def _sent_pictures(page: str) -> set[str]:
    """Keys of the pictures of a page that were sent."""
    none: set[str] = set()
    return remembered(f"sent.pictures.{page}", lambda: none)


def _letter(
    outcomes: Sequence[Outcome],
    clues: Sequence[Clue],
    child: Child,
    estimate: Inseam | None,
    label: str,
    needed_on: dt.date | None,
) -> _Letter:
    photos = photo_records(outcomes)
    records = tuple(record for _, record in photos)
    refused = (record.result for record in records if isinstance(record.result, Refusal))
    content = CaseContent(
        estimate=estimate or next(refused, _NOTHING),
        label=label,
        child=child,
        clues=tuple(clues),
        photos=records,
        needed_on=needed_on,
        language=language(),
    )
    return _Letter(content, tuple(outcome for outcome, _ in photos))


def _send(letter: _Letter, earlier: str, say: SendingTexts, *, keep: bool) -> str | None:
    """The reply code; None where the shop did not take it, which is said."""
    content = letter.content
    pictures = [_picture(outcome) if keep else None for outcome in letter.outcomes]
    # The book takes the same sending once, also where its answer was lost on the way.
    # Another family that read the same tape is another sending.
    visitor = remembered("sent.visitor", lambda: secrets.token_urlsafe(16))
    submission = hashlib.sha256(f"{visitor} {letter.mark} {keep} {earlier}".encode()).hexdigest()
    try:
        if earlier:
            received = PhotoReceived(content.estimate, content.photos)
            case = case_book().receive_photo(
                earlier, received, by="family", pictures=pictures, submission=submission
            )
        else:
            case = case_book().receive(
                content, by="family", pictures=pictures, submission=submission
            )
    except CaseBookError as error:
        st.error(say.refused_code.format(fault=fault_text(error)), icon=":material/cloud_off:")
        return None
    return case.reply_code


def _picture(outcome: Outcome) -> Picture | None:
    """The picture with its faces hidden; None where nobody was found, or several people.

    Of several people one is the child, and the others were not asked.
    """
    photo, result = outcome.shot.photo, outcome.result
    told = result.inseam if isinstance(result, PhotoMeasurement) else result
    if isinstance(told, InputError) or shows_several(told):
        return None
    body = session_pose().find(photo)
    if body is None:
        return None
    found = result.sights.reference.image_px if isinstance(result, PhotoMeasurement) else None
    pixels = in_turn(partial(picture_of_one, keep_px=found), photo, body)
    return None if pixels is None else Picture(pixels, body)
