"""The desk's own words, in the colleague's language, and hours as somebody says them."""

from collections.abc import Mapping
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from kb.ids import Language

WORDS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {
        "desk": "Desk", "queue": "Queue", "sign_in": "Sign in", "sign_out": "Sign out", "name": "Name",
        "password": "Password", "other": "Español", "other_lang": "es",
        "nobody": "No case is open. When somebody writes, the case appears here by itself.",
        "room_unnamed": "room without a name", "suspected": "suspected", "nothing_yet": "nothing suspected yet",
        "case": "Case", "all": "All", "needs_us": "Needs us", "mine": "Mine",
        "danger_now": "Danger", "told": "They were told", "room": "The room", "known": "Known",
        "complains": "They say", "ruled_out": "Ruled out", "by": "by", "believed": "Likely", "next": "Next question",
        "why": "tells apart", "ask_this": "Ask this", "tried": "Fixes", "sums": "Sums", "evidence": "For and against, in bits",
        "asides": "Asides", "aside": "An aside, which no customer sees", "keep": "Keep", "talk": "The talk",
        "earlier": "Earlier cases of this room", "deeds": "Who did what",
        "take_over": "Take over", "take_from": "Take over from {voice}", "hand_back": "Hand back to the assistant",
        "write": "Write to them", "send": "Send", "as_typed": "Goes out as typed, not translated. They write {language}.",
        "reopen": "Everybody is safe: repair may go on", "close": "Close", "close_with": "Confirmed cause",
        "unknown_cause": "not known", "sheet": "Hand-over sheet", "seen_from": "from message",
        "stale": "no longer counts", "unsure": "not sure", "else": "something that no cause here explains",
        "all_well": "nothing wrong", "speaks": "speaks", "assistant": "Assistant", "staff": "Desk", "customer": "Customer",
        "target": "target", "last": "last reading",
        "you": "You speak in this case.", "nothing_known": "Nothing is known yet.", "nothing_out": "Nothing is ruled out yet.",
        "no_texts": "They opted out of texts: telephone them.", "unreachable": "No text reaches them ({why}): telephone them.",
        "for_trade": "For the licensed trade", "cautions": "Cautions", "opened": "opened",
        "stopped": "Repair has stopped until you say that everybody is safe.", "no_question": "No question would tell more.",
        "they_said": "They say on the telephone", "note_it": "Write it down", "new_call": "Somebody calls", "first_words": "What they say first",
        "room_name": "What they call the room", "spanish_caller": "They speak Spanish", "take_call": "Take the call", "photo": "Photo", "set_to": "Correct to", "set": "Set",
        "left": "{hours} h left for the product", "over": "the product is past its limit",
        "new_came": "Something new came. Load the page again to see it.",
        "safe_note": "What was measured and seen is as the customer told it. Verify before you rely on it. Local codes apply.",
        "isolate": "Lock out and check for absence of voltage before opening. The refrigerant circuit is for certified hands only.",
    },
    "es": {
        "desk": "Mesa de ayuda", "queue": "Casos", "sign_in": "Entrar", "sign_out": "Salir", "name": "Nombre",
        "password": "Contraseña", "other": "English", "other_lang": "en",
        "nobody": "No hay casos abiertos. Cuando alguien escriba, el caso aparece aquí solo.",
        "room_unnamed": "cuarto sin nombre", "suspected": "se sospecha", "nothing_yet": "todavía nada",
        "case": "Caso", "all": "Todos", "needs_us": "Nos necesitan", "mine": "Míos",
        "danger_now": "Peligro", "told": "Se les dijo", "room": "El cuarto", "known": "Se sabe",
        "complains": "Dicen", "ruled_out": "Descartado", "by": "por", "believed": "Probable", "next": "Siguiente pregunta",
        "why": "distingue", "ask_this": "Preguntar esto", "tried": "Arreglos", "sums": "Cálculos", "evidence": "A favor y en contra, en bits",
        "asides": "Notas", "aside": "Una nota que el cliente no ve", "keep": "Guardar", "talk": "La conversación",
        "earlier": "Casos anteriores de este cuarto", "deeds": "Quién hizo qué",
        "take_over": "Tomar el caso", "take_from": "Tomar el caso de {voice}", "hand_back": "Devolver al asistente",
        "write": "Escribirles", "send": "Enviar", "as_typed": "Sale como está escrito, sin traducir. Escriben en {language}.",
        "reopen": "Todos están a salvo: se puede seguir", "close": "Cerrar", "close_with": "Causa confirmada",
        "unknown_cause": "no se sabe", "sheet": "Hoja para el técnico", "seen_from": "del mensaje",
        "stale": "ya no cuenta", "unsure": "no es seguro", "else": "algo que ninguna causa de aquí explica",
        "all_well": "nada está mal", "speaks": "habla", "assistant": "Asistente", "staff": "Mesa", "customer": "Cliente",
        "target": "meta", "last": "última lectura",
        "you": "Usted habla en este caso.", "nothing_known": "Todavía no se sabe nada.", "nothing_out": "Todavía no se descarta nada.",
        "no_texts": "No quieren mensajes: llámeles.", "unreachable": "No les llega ningún mensaje ({why}): llámeles.",
        "for_trade": "Para el técnico con licencia", "cautions": "Precauciones", "opened": "abierto",
        "stopped": "La reparación está detenida hasta que usted diga que todos están a salvo.", "no_question": "Ninguna pregunta diría más.",
        "they_said": "Dicen por teléfono", "note_it": "Anotar", "new_call": "Alguien llama", "first_words": "Lo primero que dicen",
        "room_name": "Cómo llaman al cuarto", "spanish_caller": "Hablan español", "take_call": "Tomar la llamada", "photo": "Foto", "set_to": "Corregir a", "set": "Poner",
        "left": "al producto le quedan {hours} h", "over": "el producto pasó su límite",
        "new_came": "Llegó algo nuevo. Cargue la página otra vez para verlo.",
        "safe_note": "Lo medido y visto es como lo contó el cliente. Verifíquelo antes de confiar en ello. Valen las normas locales.",
        "isolate": "Bloquee y compruebe que no hay tensión antes de abrir. El circuito de refrigerante es solo para personal certificado.",
    },
}  # fmt: skip

REASONS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {
        "phone_now": "telephone now", "danger": "danger", "food": "food on the clock", "unreachable": "texts do not arrive",
        "waits_for_person": "waits for a person", "colleague_silent": "waits for a colleague", "photo": "a photo to look at", "stuck": "not understood twice",
        "promised": "looks again", "runs": "runs by itself",
    },
    "es": {
        "phone_now": "llamar ya", "danger": "peligro", "food": "alimentos contra reloj", "unreachable": "no llegan mensajes",
        "waits_for_person": "espera a una persona", "colleague_silent": "espera a un colega", "photo": "una foto por ver", "stuck": "no se entendió dos veces",
        "promised": "se revisa", "runs": "sigue solo",
    },
}  # fmt: skip

WHYS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {
        "danger": "a danger", "asked_for_a_person": "asked for a person", "licensed_trade": "needs a licensed trade",
        "part": "needs a part", "out_of_questions": "questions ran out", "planning": "plans a room",
        "other_equipment": "equipment of another kind", "not_understood": "was not understood", "fault": "our fault",
        "food": "food may be unsafe", "no_change": "the fix changed nothing", "desk_work": "the desk must look",
    },
    "es": {
        "danger": "un peligro", "asked_for_a_person": "pidió una persona", "licensed_trade": "hace falta un técnico con licencia",
        "part": "hace falta una pieza", "out_of_questions": "se acabaron las preguntas", "planning": "planea un cuarto",
        "other_equipment": "equipo de otro tipo", "not_understood": "no se le entendió", "fault": "falla nuestra",
        "food": "el alimento puede no ser seguro", "no_change": "el arreglo no cambió nada", "desk_work": "la mesa debe revisar",
    },
}  # fmt: skip

STATES: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {
        "asking": "asking", "fixing": "a fix is under way", "waiting": "waiting to look again",
        "with_person": "with a person", "danger": "danger, repair stopped", "closed": "closed",
    },
    "es": {
        "asking": "preguntando", "fixing": "arreglo en marcha", "waiting": "en espera de revisar",
        "with_person": "con una persona", "danger": "peligro, se detuvo la reparación", "closed": "cerrado",
    },
}  # fmt: skip

STANDINGS: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {"offered": "offered", "declined": "declined", "done": "done, not yet proved", "worked": "worked", "did not help": "did not help"},
    "es": {"offered": "propuesto", "declined": "no quiso", "done": "hecho, falta probarlo", "worked": "sirvió", "did not help": "no ayudó"},
}  # fmt: skip

LANGUAGES: Final[Mapping[Language, Mapping[str, str]]] = {
    "en": {"en": "English", "es": "Spanish"},
    "es": {"en": "inglés", "es": "español"},
}


def span_words(seconds: float, language: Language) -> str:
    """A span as somebody says it.

    >>> span_words(95 * 60, "en"), span_words(40, "es"), span_words(3 * 86400, "en")
    ('1 h 35 min', 'ahora', '3 d')
    """
    minutes = int(abs(seconds) // 60)
    if minutes < 1:
        return "now" if language == "en" else "ahora"
    if minutes < 60:  # noqa: PLR2004 - an hour
        return f"{minutes} min"
    hours, left = divmod(minutes, 60)
    if hours < 48:  # noqa: PLR2004 - beyond two days nobody counts hours
        return f"{hours} h {left} min" if left else f"{hours} h"
    return f"{hours // 24} d"


def hour_words(at: datetime, zone: str) -> str:
    """An hour where the room is.

    >>> from datetime import UTC
    >>> hour_words(datetime(2026, 7, 14, 20, 5, tzinfo=UTC), "America/Chicago")
    '2026-07-14 15:05'
    """
    return f"{at.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M}"
