"""Photos: kept beside the case, fetched from where the provider has them, shown to the desk, erased with their person.

A photo is never looked at by a program: it goes to people, and what it shows still has to be said.
"""

import logging
from datetime import datetime, timedelta
from typing import Final

from sqlalchemy.orm import Session

from assistant.casebook import KeptCase, photos
from assistant.casebook.photos import Photo
from assistant.conversation.happenings import PhotoLost
from assistant.helpline.fetching import NotYet, Unfit
from assistant.helpline.house import House
from assistant.helpline.pictures import as_kept
from assistant.helpline.settling import Written, happen
from kb.errors import RequestError

log = logging.getLogger(__name__)
FIRST_WAIT: Final = timedelta(seconds=15)
MOST_TRIES: Final = 6
"""Over some eight minutes; a picture that cannot be had by then is told lost, while they still stand by the room."""


def fetch_waiting(house: House, now: datetime) -> int:
    """Fetch what waits, have the provider forget what is here; how many things were done."""
    done = 0
    if house.album is None or house.fetcher is None:
        return done
    while True:
        with house.casebook.writing() as session:
            photo = photos.claim(session, now)
        if photo is None:
            return done
        try:
            done += _fetch(house, photo, now) if photo.state == "waiting" else _forget(house, photo, now)
        except Exception:  # one picture stops no other: its lease brings it back
            log.exception("photo %s could not be dealt with", photo.id)


def _fetch(house: House, photo: Photo, now: datetime) -> int:
    assert house.album is not None and house.fetcher is not None and photo.origin is not None  # noqa: S101, PT018 - the caller looked
    got = house.fetcher.fetch(photo.origin)
    if isinstance(got, NotYet) and photo.attempts < MOST_TRIES:
        with house.casebook.writing() as session:
            photos.put_back(session, photo.id, now + FIRST_WAIT * 2 ** (photo.attempts - 1))
        return 0
    if isinstance(got, Unfit | NotYet):
        return _lose(house, photo, got.why, now)
    try:
        picture = as_kept(got)
    except RequestError as refused:
        return _lose(house, photo, refused.what, now)
    house.album.put(photo.id, picture)
    with house.casebook.writing() as session:
        if photos.keep(session, photo.id, len(picture), now):
            return 1
    house.album.drop(photo.id)  # they were erased while it was on its way
    return 0


def _lose(house: House, photo: Photo, why: str, now: datetime) -> int:
    """Tell the customer that it is lost, once, so that they say it in words or send it again."""
    log.warning("photo %s is lost: %s", photo.id, why)
    with house.casebook.reading() as session:
        case_id = photos.case_of_message(session, photo.message_id)
    if case_id is None:
        with house.casebook.writing() as session:
            photos.lose(session, photo.id, why, now)
        return 1

    def lost(session: Session, _kept: KeptCase) -> bool:
        return photos.lose(session, photo.id, why, now)

    def nothing_more(_session: Session, _written: Written) -> None:
        """The events say it all."""

    happen(house, case_id, PhotoLost(at=now, message=photo.message_id), wanted=lost, then=nothing_more)
    return 1


def _forget(house: House, photo: Photo, now: datetime) -> int:
    assert house.fetcher is not None and photo.origin is not None  # noqa: S101, PT018 - the caller looked
    gone = house.fetcher.forget(photo.origin)
    with house.casebook.writing() as session:
        if gone or photo.attempts >= MOST_TRIES:
            photos.gone_from_origin(session, photo.id)
        else:
            photos.put_back(session, photo.id, now + FIRST_WAIT * 2 ** (photo.attempts - 1))
    return 1


def drop_erased(house: House) -> None:
    """The files of those who were erased go, here and with the provider; what fails stays marked, and is tried again."""
    with house.casebook.reading() as session:
        gone = photos.erased(session)
    for photo in gone:
        if house.album is not None:
            house.album.drop(photo.id)
        if photo.origin is not None and house.fetcher is not None and not house.fetcher.forget(photo.origin):
            continue
        with house.casebook.writing() as session:
            photos.drop(session, photo.id)


def photo_in(house: House, case_id: str, photo: str) -> bytes:
    """A picture of a case, as JPEG. Fails with `RequestError` where the case has none of that id."""
    with house.casebook.reading() as session:
        theirs = photos.case_of_photo(session, photo)
    picture = house.album.get(photo) if house.album is not None and theirs == case_id else None
    if picture is None:
        raise RequestError(
            "no such photo", mend="look at the case again: it may have been erased", kind="not_found"
        )
    return picture
