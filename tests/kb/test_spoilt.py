"""Whatever stands in a file, loading ends in knowledge or in problems with a place, never in a traceback."""

from hypothesis import given, settings
from hypothesis import strategies as st

from kb.files import SourceFile
from kb.loading import fill_shelf

PAGE = """\
finding: filter
means: {en: how dirty the filter is, es: "qué tan sucio está: el filtro"}
topic: {en: filter, es: filtro}
normal: clean
background: {clogged: rarely}
things: [filter]
states:
  clean: {is: [clean], en: [clean, "yes, clean"], es: [limpio]}
  clogged:
    en:
      - clogged
      - it's full
    es: [tapado]
"""
SIGNS = st.text(alphabet="{}[]:,-?!&*#|>'\"%@` \t\n\\ab1é\x07", min_size=0, max_size=3)


def spoilt(start: int, end: int, by: str) -> bytes:
    return (PAGE[: min(start, end)] + by + PAGE[max(start, end) :]).encode()


@settings(max_examples=150, deadline=None)
@given(start=st.integers(0, len(PAGE)), length=st.integers(0, 4), by=SIGNS)
def test_a_page_with_a_slip_is_taken_or_told(start: int, length: int, by: str) -> None:
    file = SourceFile(
        shown="filter.yaml",
        relative="room_ac/findings/filter.yaml",
        kind="finding",
        data=spoilt(start, start + length, by),
    )

    _, problems = fill_shelf((file,), None)

    # the thing and the quality are in other files, so a page without a slip has three problems of its own
    for problem in problems:
        assert problem.what
        assert problem.mend
        assert str(problem)


@settings(max_examples=100, deadline=None)
@given(data=st.binary(max_size=60))
def test_any_bytes_are_taken_or_told(data: bytes) -> None:
    file = SourceFile(shown="filter.yaml", relative="room_ac/findings/filter.yaml", kind="finding", data=data)

    _, problems = fill_shelf((file,), None)

    assert all(str(problem) for problem in problems)
    assert problems
