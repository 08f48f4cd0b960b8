"""How a fault is told."""

from kb.errors import HelplineError, KnowledgeError
from kb.problems import Place, Problem, in_order, listed, nearest


def problem(line: int = 1, column: int = 1, excerpt: str = "a: b", length: int = 1) -> Problem:
    place = Place(path="a.yaml", line=line, column=column, excerpt=excerpt, length=length)
    return Problem(place=place, what="wrong", why="so", mend="write c", rule="some-rule")


def test_a_problem_of_a_whole_file_has_no_line() -> None:
    whole = Problem(
        place=Place(path="a.yaml"), what="the file is empty", why="so", mend="fill it", rule="empty-file"
    )

    assert str(whole) == "a.yaml: error: the file is empty [empty-file]\n  why:  so\n  mend: fill it"


def test_a_long_line_is_cut_around_its_fault() -> None:
    _, shown, carets, *_ = str(
        problem(column=201, excerpt="x" * 200 + "FAULT" + "y" * 200, length=5)
    ).splitlines()

    start = carets.index("^")
    assert shown[start : start + 5] == "FAULT"
    assert len(shown) < 140


def test_carets_never_run_past_the_line() -> None:
    _, shown, carets, *_ = str(problem(column=4, length=40)).splitlines()

    assert len(carets) == len(shown)


def test_problems_stand_in_order_of_place_each_once() -> None:
    first, second = problem(line=2), problem(line=10)

    assert in_order([second, first, second]) == (first, second)


def test_a_tie_goes_to_the_first_in_the_alphabet() -> None:
    assert nearest("cat", ["cart", "cast"]) == "cart" == nearest("cat", ["cast", "cart"])


def test_a_long_list_is_cut() -> None:
    assert listed("abcdefghijklmnop").endswith("k, l, …")


def test_a_knowledge_error_says_every_problem_and_how_many() -> None:
    error = KnowledgeError((problem(), problem(line=2)))

    assert isinstance(error, HelplineError)
    assert error.what == "the knowledge has 2 problems in 1 file"
    assert str(error).count("[some-rule]") == 2
