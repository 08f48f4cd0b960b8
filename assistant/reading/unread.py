"""What nothing was made of: kept for the author."""

from collections.abc import Sequence

from assistant.reading.compose import Claim
from assistant.reading.matching import DETERMINERS, LIGHT
from assistant.reading.normalise import LONGEST_TEXT, Token
from assistant.reading.quantities import Numbers
from assistant.reading.said import Span, Unread
from assistant.reading.scene import Scene
from assistant.reading.weigh import span_of


def unread_in(
    text: str, tokens: Sequence[Token], scene: Scene, claims: Sequence[Claim], numbers: Numbers
) -> tuple[Unread, ...]:
    """Runs of two words or more of which nothing was made, and what lies beyond the longest text."""
    read_places = {place for claim in claims for place in range(claim.first, claim.last)}
    for match in scene.matches:
        if match.target.kind not in {"quantity", "not_hazard"}:
            read_places.update(range(match.first, match.last))
    spans = [said.span for said in numbers.said]
    found: list[Unread] = []
    run: list[int] = []
    for place, token in enumerate((*tokens, None)):
        known = token is None or token.kind == "mark" or place in read_places or _in_spans(token, spans)
        if not known:
            run.append(place)
            continue
        heavy = [at for at in run if tokens[at].word not in LIGHT and tokens[at].word not in DETERMINERS]
        if len(heavy) > 1:
            span = span_of(tokens, run[0], run[-1] + 1)
            found.append(Unread(text=text[span.start : span.end], span=span))
        run = []
    if len(text) > LONGEST_TEXT:
        found.append(Unread(text=text[LONGEST_TEXT:], span=Span(LONGEST_TEXT, len(text))))
    return tuple(found)


def _in_spans(token: Token, spans: Sequence[Span]) -> bool:
    return any(span.start <= token.start < span.end for span in spans)
