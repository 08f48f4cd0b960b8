"""Everyday words of both languages: never repaired into something else, and the ground for telling the languages apart.

From memory, common usage. The knowledge's own words are added to these by the lexicon.
"""

from typing import Final

from assistant.reading.normalise import fold

ENGLISH: Final = frozenset(
    """
    a about above across actually add added after afternoon again against ago air all almost along already also always
    am an and another any anybody anymore anyone anything anyway apart are area around as ask asked asking at ate away
    baby back bad bag bar barely barn based basically be bear beat because become been beer before began begin behind
    being believe below bell belt best bet better between big bill bit bite black blue boat body book boss both bother
    bottle bottom bought box boxes boy brand bread break brew brewer bring broke brother brought bucket buddy build
    built bunch bus business but buy by call called came can cannot car card care careful carrots case catch caught
    cause center chance change changed cheap check checked cheese chicken child choice city class clear clearly close
    closer coat coffee come comes coming company cool cooler corner correct cost could count country couple cover cow
    crap crazy cream crew crop cup customer cut daily damn dark daughter day days dead deal dear deep delivery did
    different difference do does dog doing done door dot double down dozen dr draw drink drive drop drove due during
    each early east easy eat eggs eight either else empty end enough entire even evening ever every everybody everyone
    everything exact exactly except extra eye eyes face fact fair fairly fall far farm farmer fast father feel feeling
    feels feet fell felt few field fifty fight figure fill final finally find fine finger finish fire first fish five
    fix fixed flat floor flower flowers folks follow food foot for forget form forty forward found four free fresh
    friday friend from front fruit full fun funny further game gave gear get gets getting gift girl give given glad
    go goes going gone good got grab great green grew ground group grow grower growing guess guy guys had half hand
    handle hands happen happened happening happens happy hard hardly has hat have having he head hear heard heart
    heavy held hello help helped her here hey hi high him his hit hold hole home honest honestly hope horse hour hours
    house how however huge human hundred hung hurry hurt husband i idea if important in inch inside instead into is it
    item itself job july june just keep keeps kept key kick kid kids kind kinda knew know known last lastly late later
    least leave left leg less let lets level lettuce lie life lift light like liked likely line list listen little live
    load loads local lol long longer look looked looking looks loose lost lot lots loud love low lower lunch machine
    mad made mail main make makes making man manual many march mark market matter may maybe me mean means meant meat
    meet men message met middle might milk mind mine minute minutes miss mistake mom moment monday money month months
    more morning most mostly mother mouth move moved much must my myself name near nearly neck need needed needs
    neighbor neither never new next nice night nine no nobody none noon nor normal normally north not note nothing
    notice noticed now number of off offer office often oh ok okay old on once one ones only onto open opened or order
    other others our ours out outside over own paid pair pallet paper part parts past pay people percent perhaps person
    phone photo pick picked picking picture piece place plan plant plants play please plenty plus point poor possible
    post power pretty price probably problem produce product pull push put quarter question quick quickly quiet quit
    quite ran rather reach read ready real realize really reason recently red remember rent repair rest restaurant
    return ride right ring road rock roof room roses round row run running runs sad safe said sale same sat saturday
    save saw say saying says school season seat second see seem seemed seems seen sell send sent september serious
    set seven several shade shall shed she shelf shop short should show showed shut sick side sign since single sir
    sister sit site six size skip sky sleep slow slowly small smell smells smelled so sold some somebody somehow someone something
    sometimes somewhat somewhere son soon sorry sort sound sounded sounds south space speak spot spring staff stage
    stand start started starting starts state stay stayed stays step still stood stop stopped stops store storm story
    straight strange street strong stuff such sudden suddenly summer sun sunday sure table take taken takes taking
    talk talking tall tape tell ten text texted than thank thanks that the their them then there these they thing
    things think thinking third thirty this those though thought thousand three through thursday till time times tiny
    tip tired to today together told tomatoes tomorrow tonight too took tool top total touch touched touching toward
    town tree tried truck true trust try trying tuesday turn turned turning turns twenty twice two type under
    understand unless unlock until up us use used using usual usually vegetables very visit voice wait waited waiting
    walk wall want wanted wants was wash watch watched way we weather wednesday week weekend weeks weird well went were
    west wet what whatever wheel when where whether which while white who whole why wide wife will win wind window
    winter wish with within without woman wonder wondering wood word words work worked worker working works world
    worried worry worse worst would write wrong yard yeah year years yellow yep yes yesterday yet you young your yours
    yourself zero lb lbs kg dunno gonna ya yall btw thx ty sec min mins hr hrs temp temps ac amp amps volt volts watt
    watts btu fahrenheit celsius degree degrees deg gauge ft inch inches feet meter meters january february april august
    october november december sunny rain rainy beautiful literally honestly asap yo dude bro man sir ma'am
    """.split()
)

SPANISH: Final = frozenset(
    fold(word)
    for word in """
    a abajo abierto abra abre abrir abril abrio acá acaso acá adelante además adentro adiós afuera agarra agarré agosto
    agua ahí ahora ahorita aire al alcanza algo alguien algún alguna algunas algunos allá allí alta alto ambos amigo
    anda andaba andamos antes antier apenas aquel aquella aquí arranca arregla arreglar arriba así asi atrás aun aún
    aunque ayer ayuda ayude ayudar año años azul baja bajar bajito bajo basta bastante bien blanco bodega bonito bueno buena
    buenas buenos buscar cabeza cada caja cajas calle calor cama cambiar cambió camión campo cansado cara carne carro
    casa casi caso causa cerca cero cerrado cerrar chico chica chile cien ciento cierra cierto cinco cincuenta claro cliente
    clientes coche cocina color comer comida como cómo compadre comprar compramos compré con conmigo conozco cosa cosas cosecha
    cree creo cual cuál cualquier cuando cuándo cuanto cuánto cuarenta cuatro cuenta cuesta cuidado da dale dan dar de
    debajo debe debería debo decir dejar deja dejé dejó del demás demasiado dentro desde después detrás di día días dice dicen
    diciembre dije dijeron dijo dinero dio dios disculpe donde dónde dormir dos doce duda durante duro e él echa
    echar ejemplo el ella ellas ellos empezó empieza en encima encima encontré enero enfrente enseguida entonces entra
    entrada entrar entre era eran es esa esas escribe ese eso esos espera espero está estaba estaban estamos están estar
    estas este esto estos estoy estuvo etc explica falta familia favor febrero feo fin final flores flor forma frente
    fresas frío frijol fue fueron fuera fuerte gallinas ganado gente gracias grados gran grande grandes granja gris
    gusta ha haber había habla hablar hace hacer haces hacia haga hago han hasta hay haya hecho hermano hice hijo hija hizo hola
    hombre hora horas hoy hubo huele huevos iba idea igual importa incluso ir izquierda jefe joven jueves julio junio junto
    la lado largo las le leche lechuga lechugas lejos les libre limpié limpiar limpieza listo llama llamar llega llegar
    llegó lleva llevo lo los luego lugar lunes luz madera mal mala malo mamá mañana mande manera mano manos mar
    marido martes más marzo mas mayo me media medio mejor menos mero mes mesa meses metí meter metió metro metros mi mía
    miedo miel miente mientras miércoles mil minuto minutos mío mira mirar mire mis misma mismo mitad modo momento
    mojado mucha muchas mucho muchos mujer muy nada nadie necesito negro ni ningún ninguna ninguno niño noche nombre
    nomás nos nosotros noventa noviembre nuestra nuestro nueva nueve nuevo nunca o ochenta ocho octubre oficina oiga ojo
    ojos oler once oración os otra otras otro otros oye pa papá papas para parece pared parte pasa pasada pasado pasar paso
    pasó patrón pedir pena pensar peor pequeño pero perdón perro persona personas pesa pienso pies piso poco pocos poca podemos
    poder podría pone poner pongo por porque posible precio pregunta preguntar preocupa prende prender primera primero
    primo problema productos pronto pude puede pueden puedo puerta pues puesto puro puse puso que qué queda quedó quería
    quedar queso quien quién quiere quiero quince quitar quité quizá quizás quitó rancho rápido raro rato razón real realmente recién
    revisar revisé rojo rosas sabado sabe saber sábado saca sacar saco sal sale salen salir salió se sé sea seguir según
    segunda segundo segundos seguro seis sema semana semanas señor señora septiembre ser será sería si sí siempre siento sierra
    siete sigue siguen sin sino sirve sirven sobre sol solo sólo somos son sopla soy su suave sube subir subió suena sus tal
    también tampoco tan tanto tapa tarda tarde tarea te tengo tenemos tener tenga tenía tercera tercero tía tiempo tienda
    tiene tienen tierra tío tipo tira toca toda todas todavía todo todos toma tomar tomates trabaja trabajador trabajan
    trabajar trabajo trae traer tres treinta tu tuve tuvo último última un una unas uno unos usa usar usted ustedes va vaca vamos
    van varias varios vaya ve veces veinte vemos ven venta veo ver verdad verde vez vi viejo viene viento viernes vino
    vio vivo volver voy voz vuelta vuelve ya yo zona oigan nomas ps pos órale ándale chavo vato compa bro doña don
    disculpa perdona buenas saludos urge urgente ahorita mero merito bolas neta tantito tantita fíjese fijese
    """.split()
)

SHARED: Final = frozenset("a no me come son red sin real total final normal once solo van los pan ten sea dale he as".split())
"""Words of both languages, which tell neither."""
