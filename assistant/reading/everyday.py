"""Everyday words of both languages: never repaired into something else, and the ground for telling the languages apart.

From memory, common usage. The knowledge's own words are added to these by the lexicon.
"""

from typing import Final

from assistant.reading.normalise import fold
from assistant.reading.wordsets import word_set

ENGLISH: Final = word_set(
    """
    a about above ac across actually add added after afternoon again against ago air airport all almost along
    already also always am amp amps an and another any anybody anymore anyone anything anyway apart april are
    area around as asap ask asked asking at ate august away baby back bad bag bar barely barn based basically be
    bear beat beautiful because become been beer before began begin behind being believe bell below belt best
    bet better between big bill bit bite black blue boat body book boss both bother bottle bottom bought box
    boxes boy brand bread break brew brewer bring bro broke brother brought btu btw bucket buddy build built
    bunch bus business but buy by call called came can cannot car card care careful carrots case catch caught
    cause celsius center chance change changed cheap check checked cheese chicken child choice city class clear
    clearly close closer coat coffee come comes coming company cool cooler corner correct cost could count
    country couple cover cow crap crazy cream crew crop cup customer cut dahlias daily damn dark daughter day
    days dead deal dear december deep deg degree degrees delivery did difference different do does dog doing
    done door dot double down downstairs dozen dr draw drink drive drop drove dude due dunno during each early
    east easy eat eggs eight either else empty end enough entire even evening ever every everybody everyone
    everything exact exactly except extra eye eyes face fact fahrenheit fair fairly fall far farm farmer
    farmhouse fast father february feel feeling feels feet fell felt few field fifty fight figure figured fill
    final finally find fine finger finish fire first fish five fix fixed flat flats floor flower flowers folks
    follow food foot for forget form forty forward found four free fresh friday friend from front fruit ft full
    fun funny further game gauge gave gear get gets getting gift girl give given glad go goes going gone gonna
    good got grab great green greenhouse grew ground group grow grower growing guess guy guys had half hand
    handle hands happen happened happening happens happy hard hardly has hat have having he head hear heard
    heart heavy held hello help helped her here hey hi high him his hit hold hole home honest honestly hope
    horse hose hour hours house how however hr hrs huge human hundred hung hurry hurt husband i idea if
    important in inch inches inside instead into is ish it item itself january job july june just keep keeps
    kept key kg kick kid kids kind kinda knew know known ladder last lastly late later lb lbs least leave left
    leg less let lets lettuce level lie life lift light like liked likely line list listen literally little live
    load loads local lol long longer look looked looking looks loose lost lot lots loud love low lower lunch
    ma'am machine mad made mail main make makes making man manual many march mark market matter may maybe me
    mean means meant meat meet men message met meter meters middle might milk min mind mine mins minute minutes
    miss mistake mom moment monday money month months more morning most mostly mother mouth move moved much must
    my myself name near nearly neck need needed needs neighbor neither never new next nice night nine no nobody
    none noon nor normal normally north not note nothing notice noticed november now number october of off offer
    office often oh ok okay old on once one ones only onto open opened opening opens or order other others our
    ours out outside over overnight own paid pair pallet paper part parts past pay peonies people percent
    perhaps person phone photo pick picked picking picture piece place plan plant plants play please plenty plus
    point poor possible post power pretty price probably problem produce product pull push put quarter question
    quick quickly quiet quit quite rain rainy ran rather reach read ready real realize really reason recently
    red remember rent repair rest restaurant return ride right ring road rock roof room roses roughly round row
    run running runs sad safe said sale same sat saturday save saw say saying says school season seat sec second
    see seem seemed seems seen sell send sent september serious set seven several shade shall she shed shelf
    shop short should show showed shut sick side sign since single sir sister sit site six size skip sky sleep
    slow slowly small smell smelled smells so sold some somebody somehow someone something sometimes somewhat
    somewhere son soon sorry sort sound sounded sounds south space speak spot spring staff stage stand start
    started starting starts state stay stayed stays step still stood stop stopped stops store storm story
    straight strange street strong stuff such sudden suddenly summer sun sunday sunny supposed sure swapped
    swear table take taken takes taking talk talking tall tape tell temp temps ten text texted than thank thanks
    that the their them then there these they thing things think thinking third thirty this those though thought
    thousand three through thursday thx till time times tiny tip tired to today together told tomatoes tomorrow
    tonight too took tool top total touch touched touching toward town tractor trailer tree tried truck true
    trust try trying tuesday tulips turn turned turning turns twenty twice two ty type under understand unless
    unlock until up upstairs us use used using usual usually vegetables very visit voice volt volts wait waited
    waiting walk wall want wanted wants was wash watch watched watt watts way we weather wednesday week weekend
    weeks weird well went were west wet what whatever wheel when where whether which while white who whole why
    wide wife will win wind window winter wish with within without woman wonder wondering wood word words work
    worked worker working works world worried worry worse worst would write wrong ya yall yard yeah year years
    yellow yep yes yesterday yet yo you young your yours yourself zero
    """
)

SPANISH: Final = word_set(
    fold(
        """
    a abajo abierto abra abre abril abrio abrir acaso acá adelante además adentro adiós afuera agarra agarré
    agosto agua ahora ahorita ahí aire al alcanza algo alguien alguna algunas algunos algún allá allí alta alto
    ambos amigo anda andaba andamos antes antier apenas aquel aquella aquí arranca arregla arreglar arriba asi
    así atrás aun aunque ayer ayuda ayudar ayude azul año años aún baja bajar bajito bajo basta bastante bien
    blanco bodega bolas bonito bro buena buenas bueno buenos buscar cabeza cada caja cajas calle calor cama
    cambiar cambió camión campo cansado cara carne carro casa casi caso causa cerca cero cerrado cerrar chavo
    chica chico chile cien ciento cierra cierto cinco cincuenta claro cliente clientes coche cocina color comer
    comida como compa compadre compramos comprar compré con conmigo conozco cosa cosas cosecha cree creo cual
    cualquier cuando cuanto cuarenta cuatro cuenta cuesta cuidado cuál cuándo cuánto cómo da dale dan dar de
    debajo debe debería debo decir deja dejar dejé dejó del demasiado demás dentro desde después detrás di dice
    dicen diciembre dije dijeron dijo dinero dio dios disculpa disculpe doce don donde dormir dos doña duda
    durante duro día días dónde e echa echar ejemplo el ella ellas ellos empezó empieza en encima encontré enero
    enfrente enseguida entonces entra entrada entrar entre era eran es esa esas escribe ese eso esos espera
    espero estaba estaban estamos estar estas este esto estos estoy estuvo está están etc explica falta familia
    favor febrero feo fijese fin final flor flores forma frente fresas frijol frío fue fuera fueron fuerte
    fíjese gallinas ganado gente gracias grados gran grande grandes granja gris gusta ha haber habla hablar
    había hace hacer haces hacia haga hago han hasta hay haya hecho hermano hice hija hijo hizo hola hombre hora
    horas hoy hubo huele huevos iba idea igual importa incluso ir izquierda jefe joven jueves julio junio junto
    la lado largo las le leche lechuga lechugas lejos les libre limpiar limpieza limpié listo llama llamar llega
    llegar llegó lleva llevo lo los luego lugar lunes luz madera mal mala malo mamá mande manera mano manos mar
    marido martes marzo mas mayo mañana me media medio mejor menos merito mero mes mesa meses meter metió metro
    metros metí mi miedo miel miente mientras mil minuto minutos mira mirar mire mis misma mismo mitad miércoles
    modo mojado momento mucha muchas mucho muchos mujer muy más mía mío nada nadie necesito negro neta ni
    ninguna ninguno ningún niño noche nomas nombre nomás nos nosotros noventa noviembre nuestra nuestro nueva
    nueve nuevo nunca o ochenta ocho octubre oficina oiga oigan ojo ojos oler once oración os otra otras otro
    otros oye pa papas papá para parece pared parte pasa pasada pasado pasar paso pasó patrón pedir pena pensar
    peor pequeño perdona perdón pero perro persona personas pesa pienso pies piso poca poco pocos podemos poder
    podría pone poner pongo por porque pos posible precio pregunta preguntar prende prender preocupa primera
    primero primo problema productos pronto ps pude puede pueden puedo puerta pues puesto puro puse puso que
    queda quedar quedó quería queso quien quiere quiero quince quitar quité quitó quizá quizás quién qué rancho
    raro rato razón real realmente recién revisar revisé rojo rosas rápido sabado sabe saber saca sacar saco sal
    sale salen salir salió saludos se sea seguir segunda segundo segundos seguro según seis sema semana semanas
    septiembre ser será sería señor señora si siempre siento sierra siete sigue siguen sin sino sirve sirven
    sobre sol solo somos son sopla soy su suave sube subir subió suena sus sábado sé sí sólo tal también tampoco
    tan tantita tantito tanto tapa tarda tarde tarea te tenemos tener tenga tengo tenía tercera tercero tiempo
    tienda tiene tienen tierra tipo tira toca toda todas todavía todo todos toma tomar tomates trabaja
    trabajador trabajan trabajar trabajo trae traer treinta tres tu tuve tuvo tía tío un una unas uno unos urge
    urgente usa usar usted ustedes va vaca vamos van varias varios vato vaya ve veces veinte vemos ven venta veo
    ver verdad verde vez vi viejo viene viento viernes vino vio vivo volver voy voz vuelta vuelve ya yo zona
    ándale él órale última último
        """
    )
)

SHARED: Final = word_set(
    "a no me come son red sin real total final normal once solo van los pan ten sea dale he as"
)
"""Words of both languages, which tell neither."""
