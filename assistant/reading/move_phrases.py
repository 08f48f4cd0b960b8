"""Phrases that ask something of the conversation wherever they stand; phrases are parted by slashes.

From memory, common usage in both languages.
"""

from typing import Final

from assistant.reading.said import Move
from kb.ids import Language

CLEAR: Final[dict[Move, dict[Language, str]]] = {
    "why": {
        "en": """why do you ask / why are you asking / why do you want to know / why do you need / why does that matter /
what does that have to do / got to do with it / does that have to do with / has to do with anything
/ why would that matter / what does it matter / what difference does / why do you care / what for / how come you ask / what is it for / what is that for / why is that important / what good does that do / whats that got to do / why you asking / why ask""",
        "es": """por que pregunta / porque pregunta / por que me pregunta / porque me pregunta / para que quiere saber / para
que pregunta / por que quiere saber / porque quiere saber / que tiene que ver / por que lo pregunta / para
que sirve eso / para que es eso / para que quieren / para que ocupa / para que lo quiere / en que ayuda /
eso que importa / que importa eso / que tiene que ver eso / de que sirve saber / para que es / para que sirve""",
    },
    "how": {
        "en": """how do i do / how do i / how can i / how would i / how should i / how to do / how does one / show me how /
tell me how / where do i look / where is that / what do i look for / where do i find / what is that / what
do you mean / what does that mean / dont know how / not sure how / where would i / what if i do not have / what do i use if / what does it look like / what it look like / what am i
looking for / do not understand""",
        "es": """como le hago / como hago / como se hace / como lo hago / como puedo / como se ve / donde miro /
donde busco / como reviso / que es eso / no se como / no entiendo / no le entiendo / a que se refiere / como
saco / como le puedo hacer / como mido / no se donde / y si no tengo / que hago si no tengo""",
    },
    "skip": {
        "en": """skip / skip this / skip it / skip that one / lets skip / move on to the next / onto the next one / not answering that / do not want to answer / next question / pass on that / ask something else / ask me
something else / rather not""",
        "es": """sáltela / sáltese / brinque esa / brínquesela / bríncatela / brínquela / la que sigue / pasemos a otra / vamos a otra / vamos a la otra / esa no la contesto / no la quiero contestar / paso de esa / otra pregunta / pregunte otra cosa / siguiente pregunta /
pásela / omitir / prefiero no""",
    },
    "person": {
        "en": """talk to a real person / talk to a person / talk to someone / talk to somebody / real person / real human / a
human / speak to someone / speak with someone / speak to a person / speak with a person / human please /
live person / call me / customer service / get me a person / talk to a human / talk to a guy / someone call
me / somebody call me / talk to your boss / want a person""",
        "es": """hablar con alguien / hablar con una persona / una persona real / persona de verdad / hablar con un tecnico /
pasame con alguien / paseme con alguien / quiero hablar con / llamenme / llameme / un humano / atencion al
cliente / hablar con un humano / pueden llamarme / me pueden llamar / me puede llamar / comuniqueme con""",
    },
    "start_over": {
        "en": """start over / start again / start from zero / back to square one / start from the top / begin again / from the beginning / from scratch / lets start fresh""",
        "es": """empezar de nuevo / empecemos de nuevo / volver a empezar / desde el principio / comenzar de nuevo / empezar
otra vez / desde cero / de cero""",
    },
    "back": {
        "en": """go back / previous question / back up one / change my answer / change my last answer / last answer was wrong""",
        "es": """regresar a la anterior / volver atras / pregunta anterior / cambiar mi respuesta / la anterior estaba mal /
regrese a la anterior / me equivoque en la anterior""",
    },
    "unsure": {
        "en": """do not know / not sure / no idea / no clue / have not a clue / hard to say / hard to tell / can not tell /
couldnt tell / beats me / who knows / unsure / not certain / dont remember / could not say / not really sure
/ havent noticed / never noticed / haven't looked / no telling / wouldn't know / can not decide / could be either / not a notion
/ no notion / god knows / lord knows / heaven knows / who can say / did not look / never paid attention / never paid any
attention / nobody knows / can not say / no way of knowing / search me / was not here / before my time / not my department""",
        "es": """no se / no lo se / ni idea / no tengo idea / no estoy seguro / no estoy segura / quien sabe / no sabria
decir / no me acuerdo / no recuerdo / no me he fijado / no me fije / no sabria / no sabemos / vaya usted a
saber / no alcanzo a ver / no distingo / no le se / yo no se / sepa la bola / no te se decir / no le se decir / no te sabria / vaya a saber / nunca me fije /
puede que si puede que no / ni la menor idea / ni la mas minima idea / sabra dios / solo dios sabe / dios sabra / a saber / yo no
estaba / nadie sabe / no hay forma de saber / no hay manera de saber""",
    },
    "cannot": {
        "en": """can not look / can not right now / not right now / not now / not there / am away / not at the farm / can not
check / can not reach / can not get to / have no thermometer / do not have a thermometer / do not have one /
do not have that / no thermometer / have not got one / am not home / later today / check later / look later
/ when i get back / am driving / in town / can not do that / not able to / unable to / dont have a ladder /
cant get up there / can not see it from / do not own / no way to / not at the cooler / wont be there / too
dark / am not sticking / not sticking my hand / not doing that / no way am i / too loud / can not hear /
cant get at it / not climbing / not allowed / padlocked / has the key / can not find it / can not find the / can not
read / too fogged / not gonna unplug / not going to unplug / not unplugging / not letting it / can not get the front / can
not see into / can not get in there / have not got a / no paper / no flashlight / no ladder / hard of hearing / deaf as /
has been lost / been lost / lost the remote / will have to wait / not without the boss / someone else has to / not on my shift /
is pitch dark / closed for the day / am not going to do / will not do that / am not about to / not going up there / not
getting up there / will not go up / am not opening / do not want to do that""",
        "es": """ahorita no puedo / ahora no puedo / no puedo ahorita / no puedo / no estoy ahi / no estoy alla / no estoy en
/ no tengo termometro / no tengo con que / no tengo uno / no tengo eso / no tengo ninguno / al rato reviso /
mas tarde / luego le digo / luego reviso / ando fuera / estoy lejos / no alcanzo / voy manejando / ahorita
no / cuando regrese / no cuento con / al rato le digo / manana reviso / estoy fuera / no hay manera / no
meto la mano / ni loco / no se oye bien / no oigo / mucho ruido / no me meto / no la encuentro / no lo encuentro / no los encuentro / no las encuentro / no tengo
lampara / ya esta oscuro / imposible ver / no tengo como / no me dejan / no tengo permiso / con candado / no traigo lentes / no hay
foco / manana le digo / se perdio el control / perdi el control / no tengo papel / no tengo escalera / no tengo desarmador / no
tengo herramienta / no soy el dueno / tengo prohibido / cuando amanezca / no veo bien / no me voy a subir / no me subo /
no voy a subir / no voy a hacer eso / no lo voy a hacer / no quiero hacer eso / no quiero subir / no pienso / no voy a abrir /
no me atrevo""",
    },
    "done": {
        "en": """all done / did it / did that / done that / have done it / finished it / done with that / got it done""",
        "es": """ya lo hice / ya quedo / ya termine / ya lo limpie / ya le hice / listo ya / ya estuvo / ya lo hicimos /
quedo listo""",
    },
    "english": {
        "en": "in english / english please / speak english / prefer english",
        "es": "en ingles / ingles por favor",
    },
    "spanish": {
        "en": "in spanish / spanish please / speak spanish",
        "es": "en español / español por favor / hablo español / habla español / prefiero español",
    },
    "greeting": {
        "en": "good morning / good afternoon / good evening / hello there",
        "es": "buenos dias / buenas tardes / buenas noches / buen dia",
    },
    "thanks": {
        "en": "thank you / thanks / thank u / thx / much appreciated",
        "es": "gracias / muchas gracias / se lo agradezco / mil gracias",
    },
    "goodbye": {
        "en": "good bye / goodbye / see you / talk later / have a good one",
        "es": "adios / hasta luego / nos vemos / que este bien / hasta manana",
    },
    "pause": {
        "en": """give me a minute / give me a sec / hold on / one moment / be right back / brb / let me check / let me look /
going to look / give me an hour / hang on / give me ten / give me five / gimme a minute / gimme a sec / one sec / just a sec / just a minute / back in a minute / back in five / back in ten / got a customer / customer just walked in / let me go look / let me go check / going to check""",
        "es": """deme un momento / deme un minuto / espereme / permitame / dejeme ver / dejeme revisar / voy a
ver / voy a revisar / ahorita reviso / aguanteme / orita vengo / bancame / banqueme / aguantame / ya te contesto / ya le contesto / ahorita le contesto / ahorita te contesto / dame un segundo / dame un momento / dame un toque / deme chance / dame chance / deme tantito / permitame tantito / ahorita vuelvo / ya vuelvo""",
    },
    "new_problem": {
        "en": """new problem / different problem / another problem / other room / another room / different issue / another
question about / new issue""",
        "es": """otro problema / problema nuevo / otro cuarto / nuevo problema / problema diferente / otra falla""",
    },
    "emergency_over": {
        "en": """everyone is ok / everybody is ok / everyone is safe / everybody is fine / everyone is out / false alarm / no
one is hurt / got him out / got her out / already out / they are out now / nobody hurt""",
        "es": """todos estan bien / ya estan todos afuera / falsa alarma / nadie esta herido / ya salio / ya lo sacamos / ya
salieron / estamos bien / ya paso todo""",
    },
    "give_up": {
        "en": """give up / forget it / never mind / nevermind / this is useless / waste of time / not helping / screw it /
am done with this""",
        "es": """me rindo / olvidelo / ya dejelo / no sirve de nada / perdida de tiempo / dejelo asi / ya no quiero / ya me
canse / dejemoslo""",
    },
    "repeat": {
        "en": """say that again / repeat that / repeat the question / what was the question / come again / repeat please /
can you repeat / say again""",
        "es": """repita / repitame / puede repetir / otra vez la pregunta / como dijo / cual era la pregunta / me repite / no
le escuche""",
    },
    "holds": {
        "en": """it is fine now / its fine now / is fine now / fine again / it holds now / it is holding now / its holding now / holding steady now / back to
normal / all good now / is good now / it works now / its working now / is working now / working again / works again / works fine now / running fine now / runs
fine now / problem solved / is fixed now / its fixed now / it got better / no longer a problem / cold again now / is cold again / back on target / back to temp /
back down to temp / is okay now / its okay now""",
        "es": """ya esta bien / ya funciona / ya funciona bien / ya quedo bien / ya se arreglo solo / ya se compuso / ya trabaja bien / ya anda bien / ya jala bien /
ya jala / ya enfria / ya enfria bien / ya esta enfriando bien / ya volvio a la normalidad / ya todo bien / ya se mantiene / ya esta normal / ya esta en la
temperatura / ya llego a la temperatura / ya no falla / ya agarro temperatura / ya esta frio / problema resuelto""",
    },
    "is_it_fixed": {
        "en": """is it fixed / did that fix it / did it work / is that it / are we done / will that fix it / how do i know it
worked""",
        "es": """ya se arreglo / quedo arreglado / ya con eso / con eso queda / ya quedo arreglado / como se si funciono""",
    },
    "off_topic": {
        "en": """who won the game / tell me a joke / are you a robot / are you a bot / what is your name / how are you /
whats up""",
        "es": """como te llamas / cuenteme un chiste / eres un robot / quien gano / como esta usted / que onda / es usted un
robot / eres robot""",
    },
}
