"""Dates are computed, and what nobody wrote down is unknown."""

from datetime import date
from pathlib import Path

import pytest

from assistant.casebook.parts import RoomPart
from assistant.helpline.warranty import Rule, Words, covered, read_policy
from channels.house import OUR_POLICY
from kb.errors import SettingsError
from tests.helpline.fakes import NOON

RULE = Rule(part="controller", name=Words(en="controller", es="controlador"), months=24, rule=Words(en="r", es="r"))  # fmt: skip


def known(bought_on: date | None, *, proof: bool | None = True, misused: bool | None = False) -> RoomPart:
    return RoomPart(
        room_id="r", part="controller", bought_on=bought_on, proof=proof, misused=misused, name="Ana", at=NOON
    )


@pytest.mark.parametrize(
    ("part", "today", "standing", "why"),
    [
        (None, date(2026, 7, 14), "unknown", "no_date"),
        (known(None), date(2026, 7, 14), "unknown", "no_date"),
        (known(date(2024, 7, 14)), date(2026, 7, 14), "in", "within"),
        (known(date(2024, 7, 14)), date(2026, 7, 15), "out", "past"),
        (known(date(2024, 7, 14), proof=None), date(2026, 7, 14), "unknown", "no_proof"),
        (known(date(2024, 7, 14), proof=False), date(2026, 7, 14), "unknown", "no_proof"),
        (known(date(2024, 7, 14), misused=None), date(2026, 7, 14), "unknown", "maybe_misused"),
        (known(date(2024, 7, 14), misused=True), date(2026, 7, 14), "out", "misused"),
        (known(None, misused=True), date(2026, 7, 14), "out", "misused"),
    ],
)
def test_in_out_or_unknown_with_the_reason(
    part: RoomPart | None, today: date, standing: str, why: str
) -> None:
    stands = covered(RULE, part, today, "en")
    assert (stands.standing, stands.why) == (standing, why)


def test_a_leap_day_ends_on_the_last_of_february() -> None:
    part = known(date(2024, 2, 29))
    assert covered(RULE, part, date(2026, 2, 28), "en").standing == "in"
    assert covered(RULE, part, date(2026, 3, 1), "en").standing == "out"


def test_what_is_never_covered_is_out_whatever_is_known() -> None:
    never = RULE.model_copy(update={"months": 0})
    assert covered(never, known(date(2026, 7, 14)), date(2026, 7, 14), "en").why == "never"


def test_our_own_policy_can_be_read_and_names_no_price() -> None:
    text = OUR_POLICY.read_text(encoding="utf-8")
    assert read_policy(text, "x").rule_for("controller") is not None
    assert not any(mark in text for mark in ("$", "€", "USD", "MXN"))


@pytest.mark.parametrize(
    ("spoilt", "told"),
    [
        ("whose: x\nrules: [", "x.yaml:"),
        ("whose: x\nrules:\n  - part: a part\n", "rules.0.part"),
        ("whose: x\nrules: []\nprice: 3\n", "price"),
        ("rules: []\n", "whose"),
    ],
)
def test_a_spoilt_policy_says_what_is_wrong_and_where(tmp_path: Path, spoilt: str, told: str) -> None:
    with pytest.raises(SettingsError) as refused:
        read_policy(spoilt, str(tmp_path / "x.yaml"))
    assert told in str(refused.value.what)


def test_a_part_has_one_rule() -> None:
    text = OUR_POLICY.read_text(encoding="utf-8")
    doubled = text + text[text.index("  - part: controller") : text.index("  - part: air_probe")]
    with pytest.raises(SettingsError, match="two rules: controller"):
        read_policy(doubled, "x")
