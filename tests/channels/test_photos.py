"""Photos: from a webhook by the provider's REST interface (played by `responses`), and from a page by a form."""

import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
import requests
import responses
from flask.testing import FlaskClient
from PIL import Image
from urllib3 import encode_multipart_formdata
from werkzeug.test import TestResponse

from assistant.casebook import Casebook
from assistant.casebook.line_tables import PhotoRow
from assistant.helpline import LARGEST_BYTES, Album, DeskRoom, Helpline, NotYet, Unfit
from assistant.helpline.pictures import as_kept
from channels.sms import TwilioMedia
from channels.web import create_app
from kb.errors import RequestError
from tests.channels.callers import open_page, problem
from tests.channels.conftest import Hour
from tests.channels.test_sms import ACCOUNT, LINE, Provider, told

MEDIA = f"https://api.twilio.com/2010-04-01/Accounts/{ACCOUNT}/Messages/MM{'1' * 32}/Media/ME{'2' * 32}"
STORE = "https://media.twiliocdn.com/abc/picture"


def picture(form: str = "JPEG", size: tuple[int, int] = (64, 48), *, place: bool = False) -> bytes:
    image, out = Image.new("RGB", size, "teal"), io.BytesIO()
    exif = Image.Exif()
    if place:
        exif.get_ifd(0x8825)[1] = "N"  # GPSLatitudeRef, Exif 2.3 table 15
        exif[0x010F] = "zebra phone"  # Make
    image.save(out, form, exif=exif if place else b"")
    return out.getvalue()


@pytest.fixture
def kept(helpline: Helpline, tmp_path: Path) -> Helpline:
    """A helpline that keeps photos."""
    house = replace(helpline.house, album=Album(tmp_path / "photos"), fetcher=TwilioMedia(LINE))
    return Helpline(house)


@pytest.fixture
def hour(kept: Helpline) -> Hour:
    return Hour(kept)


@pytest.fixture
def provider(kept: Helpline, hour: Hour) -> Provider:
    return Provider(create_app(kept, hour, line=LINE).test_client())


@pytest.fixture
def rest() -> Iterator[responses.RequestsMock]:
    with responses.RequestsMock(assert_all_requests_are_fired=False) as played:
        yield played


def send_photo(provider: Provider, words: str = "", *, url: str = MEDIA, sid: str | None = None) -> list[str]:
    more = {"NumMedia": "1", "MediaUrl0": url, "MediaContentType0": "image/jpeg"}
    return [text for text, _ in told(provider.text(words, sid=sid, **more))]


def shown(helpline: Helpline) -> tuple[str, ...]:
    case = helpline.desk_list()[0].case
    return tuple(photo for message in helpline.messages_after(case) for photo in message.photos)


def files(helpline: Helpline) -> list[str]:
    assert helpline.house.album is not None
    return sorted(path.name for path in helpline.house.album.folder.glob("*"))


def test_a_photo_by_text_is_thanked_for_fetched_and_shown_to_the_desk(
    provider: Provider, kept: Helpline, hour: Hour, rest: responses.RequestsMock
) -> None:
    rest.get(MEDIA, status=307, headers={"Location": STORE})
    rest.get(STORE, body=picture())
    rest.delete(MEDIA, status=204)

    assert send_photo(provider) == ["A photo."]
    assert shown(kept) == ()
    hour.forward(timedelta(seconds=2))

    (photo,) = shown(kept)
    row = kept.desk_list()[0]
    assert row.photo_since is not None
    got = DeskRoom(kept.house).photo(row.case, photo)
    assert Image.open(io.BytesIO(got)).size == (64, 48)
    assert kept.desk_list()[0].photo_since is None
    asked = [
        (call.request.method, call.request.url, "Authorization" in call.request.headers)
        for call in rest.calls
    ]
    assert asked == [("GET", MEDIA, True), ("GET", STORE, False), ("DELETE", MEDIA, True)]


def test_a_photo_is_never_an_answer_and_the_text_with_it_is_read(provider: Provider, kept: Helpline) -> None:
    assert send_photo(provider, "too warm") == ["Question 1? 1 yes, 2 no"]
    case = kept.desk_list()[0].case
    assert [message.text for message in kept.messages_after(case) if message.from_ == "customer"] == [
        "too warm"
    ]


def test_the_same_webhook_again_brings_no_second_photo(provider: Provider, kept: Helpline) -> None:
    sid = "MM" + "1" * 32
    assert send_photo(provider, sid=sid) == send_photo(provider, sid=sid)
    assert count(kept.house.casebook) == 1


def count(book: Casebook) -> int:
    with book.reading() as session:
        return session.query(PhotoRow).count()


@pytest.mark.parametrize(
    "url",
    [
        "http://api.twilio.com/2010-04-01/Accounts/x/Messages/y/Media/z",
        MEDIA.replace("https", "http"),
        MEDIA.replace("api.twilio.com", "api.twilio.com.evil.example"),
        MEDIA.replace("api.twilio.com", "api.twilio.com@evil.example"),
        MEDIA.replace(ACCOUNT, "AC" + "9" * 32),
        MEDIA + "/../../../../Messages.json",
        MEDIA + "?x=1",
        "https://169.254.169.254/latest/meta-data",
        "file:///etc/passwd",
        "",
    ],
)
def test_only_our_own_accounts_media_is_asked_for(rest: responses.RequestsMock, url: str) -> None:
    assert isinstance(TwilioMedia(LINE).fetch(url), Unfit)
    assert TwilioMedia(LINE).forget(url)
    assert len(rest.calls) == 0


@pytest.mark.parametrize(
    "onward",
    ["https://evil.example/x", "http://media.twiliocdn.com/x", "https://twiliocdn.com.evil.example/x",
     "https://a@media.twiliocdn.com/x", "https://media.twiliocdn.com:8443/x", "//evil.example/x"],
)  # fmt: skip
def test_nobody_is_followed_off_the_providers_hosts(rest: responses.RequestsMock, onward: str) -> None:
    rest.get(MEDIA, status=307, headers={"Location": onward})
    assert isinstance(TwilioMedia(LINE).fetch(MEDIA), Unfit)
    assert len(rest.calls) == 1


def test_what_has_no_end_is_not_read_to_its_end(rest: responses.RequestsMock) -> None:
    rest.get(MEDIA, body=b"\xff\xd8\xff" + b"x" * (LARGEST_BYTES + 1))
    assert TwilioMedia(LINE).fetch(MEDIA) == Unfit("it is larger than a picture may be")
    round_and_round = "https://api.twilio.com/round"
    rest.get(MEDIA.replace("ME2", "ME3"), status=302, headers={"Location": round_and_round})
    rest.get(round_and_round, status=302, headers={"Location": round_and_round})
    assert isinstance(TwilioMedia(LINE).fetch(MEDIA.replace("ME2", "ME3")), Unfit)


def test_a_call_has_a_time_limit_and_a_broken_line_is_tried_again(rest: responses.RequestsMock) -> None:
    rest.get(MEDIA, body=requests.exceptions.ReadTimeout())
    assert TwilioMedia(LINE).fetch(MEDIA) == NotYet("ReadTimeout")
    assert rest.calls[0].request.req_kwargs["timeout"] is not None  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "body",
    [b"<html>not a picture</html>", b"GIF89a", b"\xff\xd8\xff\xe0junk", b"%PDF-1.7", b"", picture()[:200]],
)
def test_what_calls_itself_a_picture_and_is_none_is_told_lost_once(
    provider: Provider, kept: Helpline, hour: Hour, rest: responses.RequestsMock, body: bytes
) -> None:
    rest.get(MEDIA, body=body, content_type="image/jpeg")
    rest.delete(MEDIA, status=204)
    send_photo(provider)

    for _ in range(3):
        hour.forward(timedelta(minutes=1))

    case = kept.desk_list()[0].case
    said = [message.text for message in kept.messages_after(case) if message.from_ == "assistant"]
    assert said == ["A photo.", "The picture did not open."]
    assert files(kept) == []


def test_a_picture_that_is_not_there_yet_is_tried_again_and_at_last_told_lost(
    provider: Provider, kept: Helpline, hour: Hour, rest: responses.RequestsMock
) -> None:
    rest.get(MEDIA, status=404)
    rest.delete(MEDIA, status=404)
    send_photo(provider)
    for _ in range(60):
        hour.forward(timedelta(seconds=20))
    assert sum(call.request.method == "GET" for call in rest.calls) == 6
    assert shown(kept) == ()


def test_what_is_kept_shows_the_same_and_tells_nothing_else() -> None:
    drawn = as_kept(picture(place=True) + b"<script>zebra</script>")
    assert b"zebra" not in drawn
    assert not Image.open(io.BytesIO(drawn)).getexif()
    for form in ("PNG", "WEBP", "GIF"):
        assert as_kept(picture(form))[:3] == b"\xff\xd8\xff"  # JPEG's first bytes, ITU-T T.81 annex B


def test_a_small_file_that_unfolds_to_a_huge_picture_is_refused() -> None:
    out = io.BytesIO()
    Image.new("1", (20_000, 20_000)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    with pytest.raises(RequestError):
        as_kept(out.getvalue())


def test_an_erased_persons_photos_go_from_here_and_from_the_provider(
    provider: Provider, kept: Helpline, hour: Hour, rest: responses.RequestsMock
) -> None:
    rest.get(MEDIA, body=picture())
    rest.delete(MEDIA, status=500)
    send_photo(provider)
    hour.forward(timedelta(seconds=2))
    assert len(files(kept)) == 1

    kept.erase_person(kept.person_of(kept.desk_list()[0].case))
    assert files(kept) == []
    assert count(kept.house.casebook) == 1  # the provider still has it
    rest.replace(responses.DELETE, MEDIA, status=204)
    hour.forward(timedelta(minutes=1))
    assert count(kept.house.casebook) == 0


# -- from a page -----------------------------------------------------------------------------------------------------


@pytest.fixture
def client(kept: Helpline, hour: Hour) -> FlaskClient:
    return create_app(kept, hour).test_client()


def test_a_page_sends_a_photo_by_form_and_the_same_again_gets_the_same(
    client: FlaskClient, kept: Helpline
) -> None:
    page = open_page(client)
    path = f"/api/cases/{page.case}/messages"

    def send(body: bytes, client_id: str = "p1") -> TestResponse:
        form, kind = encode_multipart_formdata({"client_id": client_id, "photo": ("x.jpg", body)})
        return client.post(path, data=form, content_type=kind, headers=page.headers)

    first, again = send(picture()), send(picture())
    assert first.status_code == 200, first.text
    assert [message["text"] for message in first.get_json()["messages"]] == ["A photo."]
    assert again.data == first.data
    assert len(files(kept)) == 1
    assert page.look().get_json()["messages"][-2]["photos"] == 1
    problem(send(picture("PNG", (9, 9))), 422)
    problem(send(b"not a picture", "p2"), 422)
    problem(send(b"\xff\xd8\xff" + b"x" * LARGEST_BYTES, "p3"), 413)
    assert len(files(kept)) == 1


def test_a_form_without_a_photo_or_without_the_token_is_refused(client: FlaskClient) -> None:
    page = open_page(client)
    path = f"/api/cases/{page.case}/messages"
    problem(
        client.post(path, data={"client_id": "p1", "x": (io.BytesIO(b""), "x")}, headers=page.headers), 422
    )
    problem(client.post(path, data={"client_id": "p1", "photo": (io.BytesIO(picture()), "x")}), 401)
