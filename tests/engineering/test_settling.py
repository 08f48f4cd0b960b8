import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.engineering import celsius_of, expected_after_fix, settling_c, shares_of_bands, worked_share

TEMPERATURES = st.floats(-5, 40)


def test_after_one_time_constant_37_percent_of_the_way_is_left() -> None:
    # lumped capacitance, Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5: theta/theta_i = e^(-t/tau)
    left = (settling_c(20.0, 4.0, after_h=6.0, tau_h=6.0) - 4.0) / (20.0 - 4.0)

    assert left == pytest.approx(math.exp(-1.0), rel=1e-12)


def test_fahrenheit_by_its_definition() -> None:
    # NIST SP 811, appendix B.8: t/C = (t/F - 32)/1.8
    assert celsius_of(212.0) == pytest.approx(100.0)
    assert celsius_of(-40.0) == pytest.approx(-40.0)


def test_shares_of_a_standard_normal() -> None:
    # one sigma to either side holds 68.27 % (ISO/IEC Guide 98-3, table G.1)
    shares = shares_of_bands(0.0, 1.0, [-1.0, 1.0], ["below", "within", "above"])

    assert shares["within"] == pytest.approx(0.6827, abs=1e-4)


@given(start=st.floats(6, 25), target=st.floats(0, 5))
def test_the_promised_hour_tells_working_from_not_working(start: float, target: float) -> None:
    foreseen = expected_after_fix(start, target, at_least_h=1.0)

    assert foreseen.after_h >= 1.0
    assert foreseen.told_apart == (foreseen.fails_c - foreseen.works_c >= 1.6)


@given(seen=TEMPERATURES, start=TEMPERATURES, target=TEMPERATURES, hours=st.floats(0, 48))
def test_the_share_is_a_share(seen: float, start: float, target: float, hours: float) -> None:
    assert 0.0 < worked_share(seen, start_c=start, target_c=target, after_h=hours) < 1.0


@given(start=st.floats(8, 20), lower=st.floats(1, 4))
def test_a_colder_room_never_speaks_less_for_the_fix(start: float, lower: float) -> None:
    target = 3.0
    warmer = worked_share(start - 0.5, start_c=start, target_c=target, after_h=3.0)
    colder = worked_share(max(start - 0.5 - lower, target), start_c=start, target_c=target, after_h=3.0)

    assert colder >= warmer - 1e-9
