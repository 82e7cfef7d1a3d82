"""The case book: take cases in, change them without losing anybody's work, find, give out, erase."""

import datetime as dt
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from sqlalchemy import Column, Select, func, select

from pose_fit.body.body import Body
from pose_fit.casebook.body_record import body_from
from pose_fit.casebook.case import Case, CaseContent, PhotoRecord
from pose_fit.casebook.codes import typed_code
from pose_fit.casebook.conflict import CaseConflict
from pose_fit.casebook.database import Database, utc_now
from pose_fit.casebook.erase import Erasure, erase, finish_erasing
from pose_fit.casebook.estimate import pair_of
from pose_fit.casebook.events import (
    Action,
    CaseEvent,
    Draft,
    Exported,
    PhotoReceived,
    PictureRemoved,
    Received,
)
from pose_fit.casebook.export import cases_csv
from pose_fit.casebook.kept_picture import KeptPicture, Picture, kept_picture, shows_several
from pose_fit.casebook.query import EVERY_CASE, CaseQuery
from pose_fit.casebook.rows import (
    cases_of,
    cases_wanted,
    coded_case,
    draft_of,
    event_of,
    needed_case,
    note_submission,
    remove_draft,
    remove_pictures,
    sent_before,
    write_case,
    write_change,
    write_draft,
    write_events,
    write_pictures,
)
from pose_fit.casebook.shared_answers import SharedAnswers
from pose_fit.casebook.shop_settings import ShopSettings
from pose_fit.casebook.shop_stock import Stock
from pose_fit.casebook.staff_accounts import StaffAccounts
from pose_fit.casebook.staff_sign_ins import StaffSignIns
from pose_fit.casebook.tables import CASES, DRAFTS, EVENTS, PICTURES
from pose_fit.casebook.typed_text import NAME_LENGTH, needed_text
from pose_fit.errors import CaseBookError
from pose_fit.pairs.correction import NO_CORRECTION, Correction, correction_from
from pose_fit.pairs.pair import Pair

__all__ = ["CaseBook"]


class CaseBook:
    """All cases of a shop, or of several branches that share a database.

    One book may be used by many threads. Every method raises
    :class:`~pose_fit.errors.CaseBookError` where the database fails.

    Attributes
    ----------
    staff
        Accounts of those who may sign in.
    sign_ins
        Who is signed in at which browser.
    stock
        The shop's bicycles.
    settings
        What the shop chose for all its pages.
    shared
        Answers that families share by a link.
    """

    def __init__(self, where: str | Path, *, clock: Callable[[], dt.datetime] = utc_now) -> None:
        """Open the book at a path or database URL; see :class:`~.database.Database`.

        An erasure that was cut short, by a power failure or by readers who would not let go, is
        taken up again.
        """
        self._database: Final = Database(where)
        self._clock: Final = clock
        self.staff: Final = StaffAccounts(self._database, clock=clock)
        self.sign_ins: Final = StaffSignIns(self._database, clock=clock)
        self.stock: Final = Stock(self._database, clock=clock)
        self.settings: Final = ShopSettings(self._database, clock=clock)
        self.shared: Final = SharedAnswers(self._database, clock=clock)
        self.shared.drop_ended()
        finish_erasing(self._database, at=clock())

    def close(self) -> None:
        """Give the database back."""
        self._database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # Taking in

    def receive(
        self,
        content: CaseContent,
        *,
        by: str,
        pictures: Sequence[Picture | None] = (),
        submission: str = "",
    ) -> Case:
        """Take a new case in; it waits.

        Parameters
        ----------
        content
            What was sent in, undecided.
        by
            Who sent it: "family", or a member of staff's name.
        pictures
            One for each photo of the content, or none at all; None for a photo of which only
            numbers are kept, as of each that was refused for several people.
        submission
            A name of the sender's own for this sending. A second sending of the same name makes
            no second case: the first one comes back as it stands.
        """
        if content.decision is not None:
            raise CaseBookError(f"receive: wanted an undecided case, found {content.state}")
        by, at = _name(by), self._clock()
        kept = _kept(pictures, content.photos)
        with self._database.writing() as connection:
            earlier = sent_before(connection, submission)
            if earlier is not None:
                return earlier
            case_id = write_case(connection, content, at=at, submission=submission)
            write_events(connection, [(case_id, 1)], Received(content.estimate), by=by, at=at)
            write_pictures(connection, case_id, kept, first=0)
            return needed_case(connection, case_id)

    def receive_photo(
        self,
        reply_code: str,
        received: PhotoReceived,
        *,
        by: str,
        pictures: Sequence[Picture | None] = (),
        submission: str = "",
    ) -> Case:
        """Other photos of a case, quoted by its reply code; the case waits again.

        The earlier photos and their pictures stay, set aside. A member of staff who has the case
        open gets a conflict, not the family. ``pictures`` and ``submission`` as in
        :meth:`receive`.

        Raises
        ------
        CaseBookError
            No case has this code.
        """
        by, at = _name(by), self._clock()
        kept = _kept(pictures, received.photos)
        with self._database.writing() as connection:
            case = coded_case(connection, reply_code, hold=True)
            earlier = sent_before(connection, submission)
            if earlier is not None:
                return earlier
            # Held, so it cannot have changed since it was read.
            write_change(connection, case, received, by=by, at=at)
            note_submission(connection, case.case_id, submission, at=at)
            write_pictures(connection, case.case_id, kept, first=len(case.content.photos))
            return needed_case(connection, case.case_id)

    # Changing

    def act(self, case: Case, action: Action, *, by: str) -> Case:
        """Do something to the version of a case that was read; the changed case comes back.

        Raises
        ------
        CaseConflict
            Somebody changed it since it was read. The other person's work stands; this action
            is kept as a draft, in the exception and in :meth:`draft`.
        CaseBookError
            The action makes no sense here, or the case was deleted meanwhile.
        """
        by, at = _name(by), self._clock()
        draft = None
        with self._database.writing() as connection:
            if write_change(connection, case, action, by=by, at=at):
                remove_draft(connection, case.case_id, by=by)
                if isinstance(action, PictureRemoved):
                    remove_pictures(connection, case.case_id, action.place, by=by, at=at)
                current = needed_case(connection, case.case_id)
            else:
                current = needed_case(connection, case.case_id, hold=True)
                draft = Draft(
                    case_id=case.case_id, based_on=case.version, by=by, kept_at=at, action=action
                )
                write_draft(connection, draft)
        if draft is not None:
            raise CaseConflict(current, draft)
        if isinstance(action, PictureRemoved):
            finish_erasing(self._database, at=at)
        return current

    def draft(self, case_id: int, *, by: str) -> Draft | None:
        """The draft somebody left on a case, or None."""
        wanted = select(DRAFTS).where(DRAFTS.c.case_id == case_id, DRAFTS.c.by == _name(by))
        with self._database.reading() as connection:
            row = connection.execute(wanted).mappings().one_or_none()
        return None if row is None else draft_of(row)

    def drop_draft(self, case_id: int, *, by: str) -> None:
        """Throw a draft away; none there is no fault."""
        with self._database.writing() as connection:
            remove_draft(connection, case_id, by=_name(by))

    # Reading

    def case(self, case_id: int) -> Case:
        """The newest version of a case.

        Raises
        ------
        CaseBookError
            There is none with this number, or it was deleted.
        """
        with self._database.reading() as connection:
            return needed_case(connection, case_id)

    def case_of_code(self, reply_code: str) -> Case:
        """The case with this reply code, as the family typed it.

        Raises
        ------
        CaseBookError
            No case has this code.
        """
        with self._database.reading() as connection:
            return coded_case(connection, reply_code)

    def picture(self, case_id: int, place: int = 0) -> bytes | None:
        """The JPEG kept of a case's photo, or None."""
        jpeg: bytes | None = self._of_picture(PICTURES.c.jpeg, case_id, place)
        return jpeg

    def body(self, case_id: int, place: int = 0) -> Body | None:
        """The body kept with a photo's picture, or None."""
        record: bytes | None = self._of_picture(PICTURES.c.body, case_id, place)
        return None if record is None else body_from(record)

    def _of_picture(self, column: Column[Any], case_id: int, place: int) -> Any:
        wanted = select(column).where(PICTURES.c.case_id == case_id, PICTURES.c.place == place)
        with self._database.reading() as connection:
            return connection.execute(wanted).scalar_one_or_none()

    def history(self, case_id: int) -> tuple[CaseEvent, ...]:
        """All that happened to a case, oldest first."""
        wanted = select(EVENTS).where(EVENTS.c.case_id == case_id).order_by(EVENTS.c.event_id)
        with self._database.reading() as connection:
            return tuple(event_of(row) for row in connection.execute(wanted).mappings())

    def queue(self, *, limit: int = 100, offset: int = 0) -> tuple[Case, ...]:
        """Cases that wait for staff, oldest waiting first."""
        waiting = cases_wanted().where(CASES.c.state == "waiting")
        ordered = waiting.order_by(CASES.c.waiting_since, CASES.c.case_id)
        return self._read(ordered.limit(limit).offset(offset))

    def find(
        self, query: CaseQuery = EVERY_CASE, *, limit: int = 100, offset: int = 0
    ) -> tuple[Case, ...]:
        """Cases that match, newest first."""
        found = cases_wanted().where(*query.conditions()).order_by(CASES.c.case_id.desc())
        return self._read(found.limit(limit).offset(offset))

    def count(self, query: CaseQuery = EVERY_CASE) -> int:
        """How many cases match."""
        wanted = select(func.count()).select_from(CASES).where(*query.conditions())
        with self._database.reading() as connection:
            return connection.execute(wanted).scalar_one()

    def pairs(self) -> tuple[Pair, ...]:
        """Every pair of photo and tape in the book, by the day of the tape."""
        taped = cases_wanted().where(CASES.c.taped_on.is_not(None))
        cases = self._read(taped.order_by(CASES.c.taped_on, CASES.c.case_id))
        return tuple(pair for case in cases if (pair := pair_of(case)) is not None)

    def correction_for(self, case: Case, *, shop: str = "") -> Correction:
        """The correction of a case's photos by the pairs of other children.

        None of it where the shop turned it off.
        """
        if not self.settings.corrects:
            return NO_CORRECTION
        own = f"case {case.case_id}"
        return correction_from([pair for pair in self.pairs() if pair.name != own], shop=shop)

    def cases_of_child(self, child_code: str) -> tuple[Case, ...]:
        """All cases that a family joined by its child's code, oldest first."""
        code = typed_code(child_code)
        if not code:
            return ()
        return self._read(
            cases_wanted().where(CASES.c.child_code == code).order_by(CASES.c.case_id)
        )

    def _read(self, wanted: Select[Any]) -> tuple[Case, ...]:
        with self._database.reading() as connection:
            return tuple(cases_of(connection, wanted))

    # Giving out and deleting

    def note_export(self, case_id: int, exported: Exported, *, by: str) -> None:
        """Write into the history that something of a case was given out."""
        by, at = _name(by), self._clock()
        with self._database.writing() as connection:
            version = needed_case(connection, case_id, hold=True).version
            write_events(connection, [(case_id, version)], exported, by=by, at=at)

    def export_csv(self, query: CaseQuery = EVERY_CASE, *, by: str) -> bytes:
        """All matching cases as a table, oldest first; each case's history notes it.

        See :func:`pose_fit.casebook.export.cases_csv` for the columns.
        """
        by, at = _name(by), self._clock()
        wanted = cases_wanted(hold=True).where(*query.conditions()).order_by(CASES.c.case_id)
        with self._database.writing() as connection:
            cases = cases_of(connection, wanted)
            versions = [(case.case_id, case.version) for case in cases]
            write_events(connection, versions, Exported("table"), by=by, at=at)
        return cases_csv(cases)

    def delete(self, *case_ids: int, by: str) -> Erasure:
        """Delete cases with history, drafts and picture, for good; see :func:`.erase.erase`."""
        return erase(self._database, case_ids, by=_name(by), at=self._clock())


def _name(by: str) -> str:
    return needed_text(by, what="name of who does this", longest=NAME_LENGTH)


def _kept(
    pictures: Sequence[Picture | None], photos: Sequence[PhotoRecord]
) -> list[KeptPicture | None]:
    if pictures and len(pictures) != len(photos):
        raise CaseBookError(
            f"pictures: wanted none, or one for each of {len(photos)} photos, found {len(pictures)}"
        )
    for picture, photo in zip(pictures, photos, strict=False):
        if picture is None:
            continue
        has_bystanders = picture.body is not None and bool(picture.body.bystanders)
        if has_bystanders or shows_several(photo.result):
            raise CaseBookError("pictures: wanted none of a photo of several people, found one")
    return [kept_picture(picture) for picture in pictures]
