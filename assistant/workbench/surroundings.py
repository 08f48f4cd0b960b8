"""What surrounds one node of the knowledge, in words and strengths, ready to be drawn; and the whole as a matrix."""

from collections.abc import Iterator, Mapping

from assistant.drawing.matrix import Cell, draw_matrix, most_telling
from assistant.drawing.surroundings import Bundle, Strand, Surroundings
from kb.compiling import compile_, finding_node, symptom_node
from kb.errors import RequestError
from kb.ids import CauseId, CheckId, FindingId, FixId, StateId, SymptomId
from kb.knowledge import Knowledge
from kb.likelihood import strength
from kb.problems import nearest
from kb.schema import Finding


def surroundings_of(knowledge: Knowledge, name: str) -> Surroundings:
    """Of a cause, check, symptom, finding or fix, named by its id or `kind:id`. Fails with `RequestError`."""
    kind, _, id_ = name.rpartition(":")
    if kind in ("", "cause") and id_ in knowledge.causes:
        return _of_cause(knowledge, CauseId(id_))
    if kind in ("", "symptom") and id_ in knowledge.symptoms:
        return _of_symptom(knowledge, SymptomId(id_))
    if kind in ("", "check") and id_ in knowledge.checks:
        return _of_check(knowledge, CheckId(id_))
    if kind in ("", "finding") and id_ in knowledge.findings:
        return _of_finding(knowledge, FindingId(id_))
    if kind in ("", "fix") and id_ in knowledge.fixes:
        return _of_fix(knowledge, FixId(id_))
    known = {str(one) for shelf in _shelves(knowledge) for one in shelf}
    near = nearest(id_, known)
    mend = f"write `{near}`" if near else "name a cause, check, symptom, finding or fix"
    raise RequestError(f"nothing to draw is called `{name}`", mend, "not_found")


def matrix_of(knowledge: Knowledge) -> str:
    """The page of all causes against all findings that any of them shows, the most shared first."""
    compiled = compile_(knowledge)
    told = {
        finding: sum(finding in cause.shows for cause in knowledge.causes.values())
        for finding in knowledge.findings
    }
    findings = sorted(
        (finding for finding in told if told[finding]), key=lambda finding: (-told[finding], finding)
    )
    cells = {}
    for finding in findings:
        shows = compiled.shows[finding_node(finding)]
        usual = [
            (str(state), float(share)) for state, share in zip(shows.states, shows.background, strict=True)
        ]
        for place, row in zip(shows.causes, shows.strength, strict=True):
            cause = compiled.causes[int(place)]
            if finding in knowledge.causes[cause].shows:
                by_state = {str(state): float(share) for state, share in zip(shows.states, row, strict=True)}
                state = most_telling(by_state, usual)
                told_all = ", ".join(f"{name} {share * 100:.0f} %" for name, share in by_state.items())
                cells[str(cause), str(finding)] = Cell(
                    state=state, share=by_state[state], all_states=told_all
                )
    return draw_matrix(
        {str(id_): node.means.en for id_, node in knowledge.causes.items()},
        {str(finding): knowledge.findings[finding].means.en for finding in findings},
        cells,
        f"Causes and what they show, edition {knowledge.edition}",
    )


def _shelves(knowledge: Knowledge) -> tuple[Mapping[str, object], ...]:
    shelves = (knowledge.causes, knowledge.symptoms, knowledge.checks, knowledge.findings, knowledge.fixes)
    return tuple({str(id_): node for id_, node in shelf.items()} for shelf in shelves)


def _of_cause(knowledge: Knowledge, id_: CauseId) -> Surroundings:
    cause = knowledge.causes[id_]
    complaints = [
        Strand(words=knowledge.symptoms[symptom].means.en, strength=strength(word))
        for symptom, word in cause.complaints.items()
    ]
    shows = [
        Strand(words=finding, of=_label(knowledge.findings[finding], state), strength=strength(word))
        for finding, states in cause.shows.items()
        for state, word in states.items()
    ]
    fixes = [Strand(words=knowledge.fixes[fix].means.en, of=knowledge.fixes[fix].who) for fix in cause.fixes]
    hides = [Strand(words=knowledge.causes[other].means.en) for other in cause.hides]
    return Surroundings(
        title=f"cause: {id_}",
        lines=[cause.means.en, cause.how_common, *cause.equipment],
        before=[Bundle(heading="complained of as", strands=_strongest(complaints)), *_if_any("hides", hides)],
        after=[
            Bundle(heading="shows in", strands=_strongest(shows)),
            Bundle(heading="is mended by, in this order", strands=fixes),
        ],
    )


def _of_symptom(knowledge: Knowledge, id_: SymptomId) -> Surroundings:
    symptom = knowledge.symptoms[id_]
    causes = [
        Strand(words=cause.means.en, strength=strength(cause.complaints[id_]))
        for cause in knowledge.causes.values()
        if id_ in cause.complaints
    ]
    usual = float(compile_(knowledge).shows[symptom_node(id_)].background[0])
    said = [Strand(words=words) for words in symptom.sayings.en[:8]]
    return Surroundings(
        title=f"symptom: {id_}",
        lines=[symptom.means.en, f"{usual * 100:.0f} % complain so where nothing listed is at work"],
        before=[Bundle(heading="some ways to say it", strands=said)],
        after=[Bundle(heading="may come from", strands=_strongest(causes))],
    )


def _of_check(knowledge: Knowledge, id_: CheckId) -> Surroundings:
    check = knowledge.checks[id_]
    finding = knowledge.findings[check.finds]
    needs = [Strand(words=one, of=" or ".join(states)) for one, states in check.only_if.items()]
    never = [Strand(words=one, of=" or ".join(states)) for one, states in check.unless.items()]
    return Surroundings(
        title=f"check: {id_}",
        lines=[check.ask.en, f"finds {check.finds}", f"{check.effort.minutes:g} min, {check.effort.where}"],
        before=[
            Bundle(
                heading="answers",
                strands=[Strand(words=_label(finding, s)) for s in check.offers or finding.states],
            ),
            *_if_any("asked only when", needs),
            *_if_any("never asked when", never),
        ],
        after=[*_by_state(knowledge, check.finds)],
    )


def _of_finding(knowledge: Knowledge, id_: FindingId) -> Surroundings:
    finding = knowledge.findings[id_]
    checks = [Strand(words=check.ask.en) for check in knowledge.checks.values() if check.finds == id_]
    fixes = [Strand(words=fix.means.en) for fix in knowledge.fixes.values() if id_ in fix.touches]
    return Surroundings(
        title=f"finding: {id_}",
        lines=[finding.means.en, f"normal: {finding.normal or 'nothing'}"],
        before=[Bundle(heading="found by", strands=checks), *_if_any("touched by", fixes)],
        after=[*_by_state(knowledge, id_)],
    )


def _of_fix(knowledge: Knowledge, id_: FixId) -> Surroundings:
    fix = knowledge.fixes[id_]
    causes = [
        Strand(words=c.means.en, of=f"{c.fixes.index(id_) + 1}.")
        for c in knowledge.causes.values()
        if id_ in c.fixes
    ]
    touches = [Strand(words=knowledge.findings[finding].means.en) for finding in fix.touches]
    return Surroundings(
        title=f"fix: {id_}",
        lines=[fix.means.en, fix.who, f"{fix.minutes:g} min"],
        before=[Bundle(heading="mends, as which try", strands=causes)],
        after=[
            Bundle(heading="steps", strands=[Strand(words=step.en) for step in fix.steps]),
            *_if_any("touches", touches),
        ],
    )


def _by_state(knowledge: Knowledge, id_: FindingId) -> Iterator[Bundle]:
    for state in knowledge.findings[id_].states:
        causes = [
            Strand(words=cause.means.en, strength=strength(cause.shows[id_][state]))
            for cause in knowledge.causes.values()
            if state in cause.shows.get(id_, {})
        ]
        label = _label(knowledge.findings[id_], state)
        yield Bundle(heading=f"{label}: shown by", strands=_strongest(causes))


def _if_any(heading: str, strands: list[Strand]) -> list[Bundle]:
    return [Bundle(heading=heading, strands=strands)] if strands else []


def _strongest(strands: list[Strand]) -> list[Strand]:
    return sorted(strands, key=lambda one: (-round(one.strength or 0.0, 9), one.words, one.of))


def _label(finding: Finding, state: StateId) -> str:
    return next(iter(finding.states[state].en), state)
