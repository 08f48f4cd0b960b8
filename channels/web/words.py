"""The words of the pages themselves, in both languages; what the assistant says stands elsewhere."""

from collections.abc import Mapping
from typing import Final

from kb.ids import Language

PageWords = Mapping[str, str | Mapping[str, str]]

PAGE_WORDS: Final[Mapping[Language, PageWords]] = {
    "en": {
        "lang": "en",
        "title": "Cold room helpline",
        "what": "Your cold room is not holding temperature? Write what you see. An automatic assistant answers; a person"
        " is there when you ask for one.",
        "no_script": "This page works without script, too.",
        "plain": "Write to us on the plain page",
        "not_instead": "This does not replace a licensed technician, your food inspector or local codes. If anyone is in"
        " danger, call your emergency number first.",
        "other": "Español",
        "other_lang": "es",
        "customer": "You",
        "assistant": "Assistant",
        "staff": "Our desk",
        "write": "Say in your own words what the room is doing",
        "send": "Send",
        "look_again": "Look again",
        "take_along": "Take it to my phone",
        "text_code": "From your phone, text the code {code} to {number} within ten minutes. The talk goes on there.",
        "states": {
            "asking": "Finding the cause",
            "fixing": "A fix is under way",
            "waiting": "Waiting to look again",
            "with_person": "A person has your case",
            "danger": "Danger: all repair has stopped",
            "closed": "Closed",
        },
    },
    "es": {
        "lang": "es",
        "title": "Ayuda para cuartos fríos",
        "what": "¿Su cuarto frío no mantiene la temperatura? Escriba lo que ve. Le contesta un asistente automático; si"
        " la pide, lo atiende una persona.",
        "no_script": "Esta página también funciona sin programas en el teléfono.",
        "plain": "Escríbanos en la página sencilla",
        "not_instead": "Esto no sustituye a un técnico con licencia, a su inspector de alimentos ni a las normas locales."
        " Si alguien corre peligro, llame primero a emergencias.",
        "other": "English",
        "other_lang": "en",
        "customer": "Usted",
        "assistant": "Asistente",
        "staff": "Nuestro equipo",
        "write": "Cuente con sus palabras qué le pasa al cuarto",
        "send": "Enviar",
        "look_again": "Ver si hay algo nuevo",
        "take_along": "Llevarlo a mi teléfono",
        "text_code": "Desde su teléfono mande el código {code} al {number} antes de diez minutos. La conversación sigue ahí.",
        "states": {
            "asking": "Buscando la causa",
            "fixing": "Un arreglo está en marcha",
            "waiting": "Esperando para revisar otra vez",
            "with_person": "Una persona tiene su caso",
            "danger": "Peligro: se detuvo toda reparación",
            "closed": "Cerrado",
        },
    },
}
