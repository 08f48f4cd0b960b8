"""A case from the first text to its close, with a customer and a colleague, in a real browser; and axe finds nothing."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.browser.conftest import PASSWORD, Shop
from tests.helpline.fakes import NOON

pytestmark = pytest.mark.timeout(120)
AXE = Axe()


def faults(page: Page) -> list[str]:
    """What axe says against WCAG 2.2 AA, one line a fault."""
    page.wait_for_load_state()
    found = AXE.run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    return [f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in found.response["violations"]]


def sign_in(page: Page, shop: Shop) -> None:
    page.goto(f"{shop.address}/desk/")
    assert faults(page) == []
    page.get_by_label("Name").fill("Robin")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def test_a_case_from_first_text_to_close(page: Page, shop: Shop) -> None:
    text = "my cooler is at 52 F, set to 38 F, window unit, and the coil is a block of ice"
    case = shop.helpline.open_case(client_id="c1", at=NOON, text=text, language="en").case
    shop.helpline.name_room(case, "berry room")
    sign_in(page, shop)
    assert faults(page) == []

    page.get_by_role("link", name="berry room").click()
    assert faults(page) == []
    page.get_by_role("button", name="Take over").click()
    page.get_by_label("Write to them").fill("This is Robin. I look at it now.")
    page.get_by_role("button", name="Send", exact=True).click()
    expect(page.get_by_text("This is Robin. I look at it now.")).to_be_visible()
    page.get_by_label("An aside, which no customer sees").fill("call back at three")
    page.get_by_role("button", name="Keep").click()
    page.get_by_role("button", name="Hand back to the assistant").click()
    expect(page.get_by_role("button", name="Take over")).to_be_visible()
    page.get_by_role("button", name="Close", exact=True).click()

    page.get_by_role("link", name="Desk").click()
    expect(page.get_by_text("No case is open")).to_be_visible()


def test_no_page_is_wider_than_its_screen(page: Page, shop: Shop) -> None:
    """WCAG 2.2, 1.4.10: what is wide scrolls in its own box, not the page."""
    for number in range(3):
        shop.helpline.open_case(
            client_id=f"c{number}", at=NOON, text="52 F, set 38 F, no ice, filter clean", language="en"
        )
    sign_in(page, shop)
    for path in ("/desk/", f"/desk/cases/{shop.helpline.desk_list()[0].case}"):
        page.goto(shop.address + path)
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), path


def test_the_queue_is_worked_by_keys(page: Page, shop: Shop) -> None:
    for number in range(2):
        opened = shop.helpline.open_case(
            client_id=f"c{number}", at=NOON, text="52 F, set 38 F", language="en"
        )
        shop.helpline.name_room(opened.case, f"room {number}")
    sign_in(page, shop)
    expect(page.get_by_role("heading", name="Queue")).to_be_visible()
    page.wait_for_load_state()

    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    second = page.evaluate("document.activeElement.textContent")
    page.keyboard.press("ArrowUp")
    first = page.evaluate("document.activeElement.textContent")
    assert {first, second} == {"room 0", "room 1"}
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name=first)).to_be_visible()


def look_now(page: Page) -> None:
    """As when somebody comes back to the page."""
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def test_the_queue_stays_fresh_without_being_loaded_again(page: Page, shop: Shop) -> None:
    shop.helpline.open_case(client_id="c1", at=NOON, text="52 F, set 38 F", language="en")
    sign_in(page, shop)
    page.wait_for_load_state("networkidle")
    page.evaluate("window.notLoadedAgain = true")
    opened = shop.helpline.open_case(
        client_id="c2", at=NOON, text="I smell burning at the plug", language="en"
    )
    shop.helpline.name_room(opened.case, "grain room")

    look_now(page)

    expect(page.get_by_role("link", name="grain room")).to_be_visible()
    assert page.evaluate("window.notLoadedAgain")
    assert faults(page) == []


def test_fresh_news_takes_no_words_from_a_hand_and_is_not_taken_for_seen(page: Page, shop: Shop) -> None:
    case = shop.helpline.open_case(client_id="c1", at=NOON, text="52 F, set 38 F", language="en").case
    sign_in(page, shop)
    page.goto(f"{shop.address}/desk/cases/{case}")
    page.get_by_role("button", name="Take over").click()
    page.wait_for_load_state("networkidle")
    page.get_by_label("Write to them").fill("half a sen")
    shop.helpline.receive(case, None, "wait, there is water too", "m2", NOON)

    look_now(page)

    expect(page.locator("#live-talk").get_by_text("wait, there is water too")).to_be_visible()
    expect(page.get_by_label("Write to them")).to_have_value("half a sen")
    seen = page.locator("input[name=seen]").first
    before = seen.input_value()
    page.get_by_role("button", name="I have read it").click()
    assert int(seen.input_value()) > int(before)
    page.get_by_role("button", name="Send", exact=True).click()
    expect(page.get_by_text("half a sen")).to_be_visible()


def test_the_other_pages_have_no_faults_and_fit_their_screen(page: Page, shop: Shop) -> None:
    for number in range(3):
        opened = shop.helpline.open_case(
            client_id=f"c{number}", at=NOON, text="coil is a block of ice, 52 F, set 38 F", language="en"
        )
        shop.helpline.name_room(opened.case, f"room {number}")
    sign_in(page, shop)
    case = shop.helpline.desk_list()[0].case
    page.goto(f"{shop.address}/desk/cases/{case}")
    page.get_by_role("button", name="Take over").click()
    paths = (
        "/desk/?find=ice", "/desk/many", "/desk/shift", "/desk/parts", "/desk/drafts", f"/desk/cases/{case}",
        f"/desk/cases/{case}/hand-over", f"/desk/cases/{case}/customer-sheet",
    )  # fmt: skip
    for path in paths:
        page.goto(shop.address + path)
        for closed in page.locator("details:not([open]) > summary").all():
            if closed.is_visible():
                closed.click()
        assert faults(page) == [], path
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), path


def test_single_keys_can_be_turned_off(page: Page, shop: Shop) -> None:
    """WCAG 2.2, 2.1.4."""
    sign_in(page, shop)
    page.wait_for_load_state("networkidle")
    page.keyboard.press("f")
    expect(page.get_by_role("searchbox")).to_be_focused()
    page.keyboard.press("f")  # in the field it is a letter
    expect(page.get_by_role("searchbox")).to_have_value("f")
    page.get_by_text("Keys", exact=True).click()
    page.get_by_label("Single keys work on these pages").uncheck()
    page.locator("h1").click()
    page.keyboard.press("m")
    expect(page.get_by_role("heading", name="Queue")).to_be_visible()
