"""Ordinary phrases that ask something of the conversation when they are all there is; phrases are parted by slashes.

From memory, common usage in both languages.
"""

from typing import Final

from assistant.reading.said import Move
from kb.ids import Language

ALONE: Final[dict[Move, dict[Language, str]]] = {
    "why": {
        "en": "why / how come / why that",
        "es": "por que / porque / para que / y eso / y eso por que / y eso para que",
    },
    "how": {
        "en": "how / how so / where / what / huh / where at / like how",
        "es": "como / donde / como asi / que / mande / en donde / cual",
    },
    "skip": {
        "en": "pass / next one / move on",
        "es": "paso / otra / siguiente / esa no",
    },
    "person": {
        "en": "person / human / agent / operator / representative / somebody real",
        "es": "persona / humano / agente / operador / asesor",
    },
    "start_over": {
        "en": "restart / restart this / reset / over",
        "es": "reiniciar / de nuevo / otra vez desde el inicio",
    },
    "back": {
        "en": "back / undo / previous / oops",
        "es": "atras / regresar / volver / anterior",
    },
    "next": {
        "en": """next / go on / continue / ok next / go ahead / keep going / whats next / then what / now what""",
        "es": """sigue / siguiente / continuar / adelante / que sigue / continue / y luego / y ahora / sigamos / dele""",
    },
    "done": {
        "en": """done / finished / ready / complete / ok did / all set / i did / did / yep done / okay done / i have""",
        "es": """listo / lista / ya / hecho / termine / ya listo / listo jefe / acabe / ok listo / ok ya / quedo / ya esta""",
    },
    "unsure": {
        "en": "dunno / maybe / depends / good question / idk / no comment",
        "es": "quizas / tal vez / depende / puede ser / a lo mejor / mmm / saber / quien sabe",
    },
    "cannot": {
        "en": "later / can not / not possible / no can do / tomorrow / not yet",
        "es": "luego / despues / al rato / manana / todavia no / aun no / no se puede / imposible / no se ve / no se alcanza a ver / no se ve nada",
    },
    "pause": {
        "en": "wait / a minute / one sec / a sec / pause",
        "es": "espere / pausa / momento / un momentito / momentito / deme chance / un segundo / ahorita / voy",
    },
    "yes": {
        "en": """yes / yeah / yep / yup / ya / sure / correct / right / affirmative / of course / you bet / ok / okay /
absolutely / uh huh / yes please / thats right / it is / it does / they do / y / i do / yessir / that is it
/ exactly""",
        "es": """si / sí / claro / correcto / asi es / simon / sip / exacto / ok / efectivamente / por supuesto / asi mero /
cierto / claro que si / a huevo / sii / eso / dale / va / vale / bueno / esta bien / de acuerdo""",
    },
    "no": {
        "en": """no / nope / nah / naw / negative / not really / nada / it does not / it is not / not that i know of / not
that i can see / not that ive seen / n / not at all / no way / they do not / nuh uh / i do not / never""",
        "es": """no / nel / nop / no que yo sepa / que yo sepa no / no que yo vea / para nada / negativo / que va / nones /
no señor / no nada / nunca / tampoco / nombre no / claro que no""",
    },
    "greeting": {
        "en": "hi / hello / hey / howdy / yo / morning / hi there",
        "es": "hola / buenas / que tal / oiga / buenos / holi",
    },
    "english": {
        "en": "english",
        "es": "ingles",
    },
    "spanish": {
        "en": "spanish",
        "es": "español",
    },
    "goodbye": {
        "en": "bye / later / cya",
        "es": "bye / chao",
    },
    "repeat": {
        "en": "again / repeat / pardon / sorry / come again",
        "es": "otra vez / repita / perdon / mande",
    },
    "thanks": {
        "en": "ty / appreciate it",
        "es": "agradecido",
    },
    "off_topic": {
        "en": "lol / haha",
        "es": "jaja / jajaja",
    },
}
