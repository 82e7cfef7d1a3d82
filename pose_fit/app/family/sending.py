"""Send what was measured to the shop, who checks it and answers."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.case_content import photo_records
from pose_fit.app.inputs.reference_form import ObjectOfKnownSize
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import FIELD
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.views.messages import plain
from pose_fit.casebook.case import CaseContent
from pose_fit.casebook.clue import Clue
from pose_fit.casebook.events import PhotoReceived
from pose_fit.casebook.kept_picture import Picture
from pose_fit.errors import CaseBookError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.privacy.hide_faces import with_face_hidden
from pose_fit.refusal import Notice, Refusal

__all__ = ["offer_sending"]

_SENT: Final = "sent_code"
_SEVERAL: Final = frozenset({"several_people", "people_overlap"})
_NOTHING: Final = Refusal((Notice("nothing_given", "Nothing was measured."),))


def offer_sending(
    outcomes: Sequence[Outcome],
    asked: ObjectOfKnownSize | None,
    clues: Sequence[Clue],
    child: Child,
    *,
    estimate: Inseam | None,
    page: str,
    needed_on: dt.date | None = None,
) -> None:
    """The form, and the reply code once it was sent.

    ``estimate`` is what was measured altogether, as of today; None where nothing was.
    """
    code = st.session_state.get(f"{page}.{_SENT}")
    if code is not None:
        st.success(
            f"Sent. Your reply code is **{code}**: quote it when you ask, or send another picture."
        )
    if not outcomes and not clues:
        st.caption("Measure something first.")
        return
    with st.form(f"{page}.send", border=False):
        label = st.text_input(
            "A name or number by which you will be found again",
            placeholder="what you like; optional",
            max_chars=200,
        )
        earlier = st.text_input(
            "Reply code, if the shop asked for another picture", key=f"{FIELD}{page}.send.earlier"
        )
        keep = st.checkbox(
            "Keep the picture with it, face hidden, so that the shop can check it",
            help="Without it only numbers are kept. The shop can delete either for good.",
        )
        sent = st.form_submit_button("Send to the shop", icon=":material/send:")
    if not sent:
        return
    sent_photos = photo_records(outcomes)
    records = tuple(record for _, record in sent_photos)
    pictures = [_picture(outcome) if keep else None for outcome, _ in sent_photos]
    refused = (record.result for record in records if isinstance(record.result, Refusal))
    sent_in = estimate or next(refused, _NOTHING)
    try:
        if earlier.strip():
            received = PhotoReceived(sent_in, records)
            case = case_book().receive_photo(earlier, received, by="family", pictures=pictures)
        else:
            content = CaseContent(
                estimate=sent_in,
                label=label,
                child=child,
                clues=tuple(clues),
                photos=records,
                needed_on=needed_on,
            )
            case = case_book().receive(content, by="family", pictures=pictures)
    except CaseBookError as error:
        st.error(plain(str(error)), icon=":material/cloud_off:")
        return
    st.session_state[f"{page}.{_SENT}"] = case.reply_code
    st.rerun()


def _picture(outcome: Outcome) -> Picture | None:
    """The picture with its faces hidden; None where nobody was found, or several people.

    Of several people one is the child, and the others were not asked.
    """
    photo, result = outcome.shot.photo, outcome.result
    if isinstance(result, Refusal) and any(reason.code in _SEVERAL for reason in result.reasons):
        return None
    body = session_pose().find(photo)
    if body is None:
        return None
    found = result.sights.reference.image_px if isinstance(result, PhotoMeasurement) else None
    return Picture(with_face_hidden(photo, body, keep_px=found), body)
