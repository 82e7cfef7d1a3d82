"""The photos of a case, those with a kept picture measured again so that marks can be moved."""

from functools import partial

import streamlit as st
from PIL import Image

from pose_fit.app.inputs.correcting import offer_correcting
from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.inputs.reference_form import can_be_marked, mark_object
from pose_fit.app.shop.case_marks import (
    case_shot,
    heels_key,
    measured_once,
    offer_to_keep,
    task_on_screen,
)
from pose_fit.app.style import picture
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import day_text, in_language, language, unit
from pose_fit.app.turns import in_turn
from pose_fit.app.views.messages import fault_text, plain, show_refusal
from pose_fit.app.views.photo_view import marks_in_words
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case, PhotoRecord
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.overlay import overlay_picture
from pose_fit.errors import InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.pairs.pair_texts import PAIR_TEXTS
from pose_fit.refusal import Refusal

__all__ = ["show_case_picture"]


def show_case_picture(book: CaseBook, case: Case, *, by: str) -> None:
    """The photo that is chosen: its picture with marks, and moving them."""
    say = in_language(CASE)
    photos = case.content.photos
    if not photos:
        st.caption(say.no_photo)
        return
    place = len(photos) - 1
    if len(photos) > 1:
        place = st.radio(
            say.photo,
            range(len(photos)),
            index=_first_shown(photos),
            format_func=lambda each: _photo_words(photos[each], each),
            key=f"staff.photo.{case.case_id}.{case.version}",
            horizontal=True,
        )
    record = photos[place]
    jpeg = book.picture(case.case_id, place)
    if jpeg is None:
        st.caption(say.no_picture)
    else:
        _show_picture(book, case, place, jpeg, by=by)
    _show_facts(record)


def _first_shown(photos: tuple[PhotoRecord, ...]) -> int:
    return next(place for place, photo in enumerate(photos) if not photo.set_aside)


def _photo_words(record: PhotoRecord, place: int) -> str:
    say = in_language(CASE)
    gave = (
        length_text(record.result.mean_mm) if isinstance(record.result, Inseam) else say.no_number
    )
    words = say.photo_words.format(number=place + 1, length=gave)
    return say.earlier.format(words=words) if record.set_aside else words


def _show_picture(book: CaseBook, case: Case, place: int, jpeg: bytes, *, by: str) -> None:
    say, record = in_language(CASE), case.content.photos[place]
    shot = case_shot(book, case, place, jpeg)
    if not record.task.stated.heels_down:
        st.checkbox(say.heels, key=heels_key(shot))
    task = task_on_screen(shot, record.task)
    result = measured_once(shot, task)
    if isinstance(result, PhotoMeasurement):
        draw = partial(overlay_picture, unit=unit(), texts=DRAWING_TEXTS[language()])
        marked = in_turn(draw, result)
        picture(marked, alt=marks_in_words(say.picture_alt, result))
    else:
        picture(Image.fromarray(shot.photo.pixels), alt=say.picture_plain)
        if isinstance(result, Refusal):
            show_refusal(result)
        else:
            st.warning(fault_text(result))
    if not isinstance(result, InputError):
        offer_correcting(shot, result)
    kind = task.reference.kind
    if can_be_marked(kind) and st.toggle(say.mark_object, key=f"staff.mark.{shot.key}"):
        mark_object(shot, kind)
    if not record.set_aside:
        offer_to_keep(book, case, place, by=by, where="picture")


def _show_facts(record: PhotoRecord) -> None:
    say = in_language(CASE).kept_facts
    reference, stated = record.task.reference, record.task.stated
    kinds, legwear = PAIR_TEXTS[language()].objects, PAIR_TEXTS[language()].legwear
    told = [say["object"].format(value=kinds[record.reference or reference.kind])]
    if reference.size_mm is not None:
        told.append(say["size"].format(value=length_text(reference.size_mm)))
    if stated.soles_mm:
        told.append(say["soles"].format(value=length_text(stated.soles_mm)))
    elif stated.soles_mm is not None:
        told.append(say["barefoot"])
    if stated.legwear is not None:
        told.append(say["legwear"].format(value=legwear[stated.legwear]))
    if stated.heels_down:
        told.append(say["heels"])
    if reference.ruler_mm is not None:
        told.append(say["ruler"].format(value=length_text(reference.ruler_mm)))
    if record.taken_on is not None:
        told.append(say["taken"].format(value=day_text(record.taken_on)))
    st.caption(plain(" ".join(told)))
