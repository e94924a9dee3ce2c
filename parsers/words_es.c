/* SPDX-License-Identifier: MIT
 * words_es: the words of Spanish, without accents. "si" is yes and if, "manana" is morning and
 * tomorrow, "mar" is Tuesday and the sea's month: the grammar decides by what stands beside them. */
#include "parsers/words_tables.h"

static const struct word_row rows[] = {
    /* the grammar */
    {WORD_DONE, 0, "hecho|hecha|servicio hecho|servicio listo|servicio terminado"},
    {WORD_FIX, 0, "corregir|corrige|corrijo|corregido|corregida|correccion|correcion"},
    {WORD_SWAP, 0,
     "cambio|cambiar|cambie|cambiado|cambio de medidor|cambio de horometro|"
     "cambio medidor|cambio horometro|medidor cambiado|horometro cambiado"},
    {WORD_LATER, 0, "luego|despues|mas tarde|posponer|pospone|aplazar|aplaza"},
    {WORD_DUE, 0,
     "pendiente|pendientes|vence|vencen|toca|tocan|vencimientos|vencimiento|por vencer|"
     "que toca|que vence|que vencen|le toca|cuando toca|cuando le toca"},
    {WORD_UNDO, 0,
     "deshacer|deshaz|deshagalo|anular|anula|anulalo|anulelo|borre eso|borra eso|borrelo|"
     "borralo|borre el ultimo|borra el ultimo|cancele eso|cancela eso|cancelalo|cancelelo|"
     "quite eso|quita eso|quitalo|quitelo|olvide eso|olvida eso|ignore eso|ignora eso|"
     "ignore mi mensaje|ignora mi mensaje|ignore mi ultimo mensaje|ignora mi ultimo mensaje|"
     "borre mi mensaje|borre mi ultimo mensaje|elimine eso|elimina eso|eliminalo|"
     "no tome en cuenta el ultimo|no tome en cuenta mi mensaje"},
    {WORD_NO, 0, "no"},
    {WORD_HELP, 0, "ayuda|ayudame|informacion|info"},
    {WORD_STOP, 0, "alto|parar|pare|para|baja|dar de baja|de baja|no mas mensajes|no mas textos"},
    {WORD_STOP | WORD_CANCEL, 0, "cancelar|cancela|terminar"},
    {WORD_START, 0, "iniciar|inicio|empezar|comenzar|reanudar|alta"},

    /* answers and manners */
    {WORD_ASSENT, 0,
     "si|sip|sii|siii|claro|sale|sale pues|va pues|orale|arre|claro que si|correcto|correcta|asi "
     "es|exacto|exactamente|"
     "vale|dale|simon|de acuerdo|eso es|eso|es correcto|esta correcto|esta bien|ok|okey|"
     "afirmativo|va|ta bien|si senor|es cierto"},
    {WORD_DISSENT, 0, "nel|para nada|negativo|no es|que no|nop"},
    {WORD_COURTESY, 0,
     "hola|buenas|buenos dias|buenas tardes|buenas noches|buen dia|saludos|jefe|jefa|"
     "patron|patrona|amigo|amiga|amigos|compa|don|dona|senor|senora|muchachos|todos|"
     "oye|oiga|mira|mire|adios|hasta luego|hasta manana|nos vemos|feliz dia|que tal"},
    {WORD_COURTESY, 0,
     "no hay problema|sin problema|no hay de que|no pasa nada|de nada|perfecto|bien|"
     "muy bien|entendido|entendida|enterado|enterada|recibido|listo|lista|bueno|buen fin|"
     "buen fin de semana|igualmente|a la orden|disculpe|disculpa|disculpen|que este bien|"
     "aqui|aqui esta|aqui va|aqui le va|ahi "
     "esta|ahi va|ahi le va|jaja"},
    {WORD_COURTESY, 0, "anote|anota|anotelo|anotalo|apunte|apunta|apuntelo"},
    {WORD_COURTESY | WORD_POLITE, 0,
     "por favor|porfavor|porfa|xfa|xfavor|porfis|x favor|gracias|muchas gracias|mil "
     "gracias|grasias|"
     "grax|se lo agradezco|te lo agradezco|gracias jefe|de antemano gracias|"
     "gracias de antemano"},
    {WORD_COURTESY, 0,
     "le gusto una imagen|le encanto una imagen|le gusto una foto|"
     "le encanto una foto"},
    {WORD_REACTION, 1,
     "le gusto|le encanto|le gusta|le encanta|me gusta|me encanta|"
     "le dio me gusta a|le dio un me gusta a|dio un me gusta a|marco con me gusta|"
     "marco como me gusta|indico que le gusta|indico que le encanta"},
    {WORD_REACTION, 0,
     "se rio de|no le gusto|no le gusta|enfatizo|hizo enfasis en|resalto|destaco|"
     "cuestiono|elimino un me gusta de|elimino|quito un me gusta de|indico que no le gusta|"
     "pregunto por"},
    {WORD_REACTION, 0, "reacciono|reacciono con|reacciono a"},
    {WORD_SIGNOFF, 0, "enviado desde|enviado con|mandado desde|enviado por"},
    {WORD_TEXTS, 0,
     "mensajes|mensaje|textos|texto|enviar|enviarme|enviando|mandar|mandarme|mandando|"
     "envies|mandes|mensajitos|recibir|de mensajes"},
    {WORD_FILLER, 0,
     "sino|sino que|me|lo|eso|esto|todo|pero|ultimo|el ultimo|otra vez|de nuevo|ahora|lo ultimo|"
     "mi ultimo mensaje|el mensaje|necesito|ya|a mi|mas|de|dame|dame de|darme|quiero|"
     "darme de|servicio|maquinas|esta semana|hay|que hay|lo que mande"},

    /* around a machine and its figure */
    {WORD_LINK, 0,
     "en|termine con|termino con|quedo con|esta en|esta a|esta "
     "con|tiene|tenia|marca|marco|marcaba|marcando|esta marcando|"
     "muestra|dice|va|va en|va por|ya va por|ya va en|lleva|ya lleva|con|a|al|ahora|ya|"
     "ya tiene|son|anda|anda en|anda por|quedo|quedo en|termino|termino en|termino con"},
    {WORD_LINK, 0,
     "cerro|cerro en|cerro con|lee|lectura|horometro|el horometro|su horometro|contador|"
     "el contador|medidor|el medidor|reloj|el reloj|tablero|el tablero|indica|registra|"
     "actual|actualmente|total|trae|ya trae|llego a|amanecio en|paro en|quedo con|cuenta"},
    {WORD_LINK | WORD_COPULA, 0, "es|esta"},
    {WORD_ARTICLE, 0,
     "el|la|los|las|mi|mis|nuestra|nuestro|esta|este|para|para la|para el|en|en la|en el|"
     "de|de la|del"},
    {WORD_NOUN, 0,
     "maquina|podadora|cortadora|cortacesped|segadora|tractor|unidad|equipo|numero|num|"
     "la maquina|maquina numero|la podadora|la cortadora|la unidad|el tractor|el equipo"},
    {WORD_JOIN, 0, "y|e|tambien|ademas|y tambien|y luego|y ademas"},
    {WORD_UNTIL, 0, "por|por la|por el|para|para la|para el|hasta|hasta la|hasta el"},
    {WORD_SERVICE, 0, "servicio|servicios|mantenimiento|mantto|el servicio"},
    {WORD_STATUS, 0, "estado|estatus|situacion"},
    {WORD_OLD, 0, "viejo|vieja|anterior|ultimo|medidor viejo|era|fue|antes"},
    {WORD_NEW, 0, "nuevo|nueva|medidor nuevo|primero|ahora"},
    {WORD_ROUGHLY, 0,
     "aprox|aproximadamente|mas o menos|o algo asi|casi|creo|creo que|yo creo|tal vez|quizas"},
    {WORD_ABOUT, 0,
     "casi|como|como en|aprox|aproximadamente|mas o menos|alrededor de|cerca de|unos|unas|"
     "creo que|por ahi de|tal vez|quizas|quiza|mas de|menos de|poco mas de"},
    {WORD_INSTEAD, 0,
     "o|u|perdon|digo|quise decir|quiero decir|corrijo|mejor dicho|disculpa|disculpe|"
     "osea|o sea|ups|mas bien|hasta|no|eran|era|fue|es|son|antes|ahora|me equivoque|a|de|"
     "perdona|perdone|fe de erratas"},
    {WORD_WRONG, 0,
     "incorrecto|incorrecta|equivocado|equivocada|ignora|ignoralo|ignorar|ignore|olvidalo|"
     "olvidelo|esta mal|me equivoque|no es correcto|no es"},

    /* no report */
    {WORD_ASKS, 0,
     "como|cuando|cuanto|cuanta|cuantas|cuantos|que|cual|cuales|donde|quien|por que|"
     "a que hora|como va|como esta|cuanto le falta|cuanto falta|ya paso"},
    {WORD_ASKS_FIRST, 0,
     "es|esta|estan|hay|tiene|tienen|puede|puedes|puedo|pueden|alguien|sabes|sabe|tienes|"
     "recibio|recibieron|recibiste|llego"},
    {WORD_PLANS, 0,
     "si|hasta|hasta el|hasta la|hasta que|antes|antes de|antes de que|despues|despues "
     "de|quizas|quiza|"
     "tal vez|talvez|debe|deberia|deben|debemos|necesita|necesito|necesitan|quiero|quiere|"
     "voy|vamos|van a|va a "
     "llegar|recuerda|recuerdame|recuerden|recuerde|recordar|recuerdenme|recuerdeme|recuerdenos|"
     "recordarme|recuerdanos"},
    {WORD_PLANS, 0,
     "recordatorio|avisa|avisame|avise|avisen|aviseme|avisenme|avisenos|manana|pronto|proximo|"
     "proxima|espero|"
     "esperamos|creo|supongo|parece|pienso|llegara|llegue|tendra|sera|estara|marcara|"
     "podria|podrias|falta|faltan|para cuando|en caso|en cuanto|una vez|por si|aunque"},
    {WORD_PLANS, 0, "tengo que|tiene que|hay que|toca|limite|meta|maximo|cada|planeo"},
    {WORD_DENIES, 0,
     "no|nunca|tampoco|ni|ignora|ignore|ignoren|ignorar|olvida|olvide|olviden|olvidalo|"
     "borra|borrar|borre|quita|quitar|cancela|cancelar|sin|excepto|equivocado|equivocada|"
     "incorrecto|deshacer|anula|anular|corregir|corrige|corrijo|jamas|ninguna"},

    /* units */
    {WORD_HOURS, 0, "h|hs|hrs|hora|horas|horas totales|hr"},
    {WORD_QUARTS, 1000, "cuarto|cuartos|cuartos de galon|cuarto de galon"},
    {WORD_QUARTS, 4000, "galon|galones"},
    {WORD_QUARTS, 500, "pinta|pintas"},
    {WORD_LITRES, 1000, "litro|litros|lts|lt"},
    {WORD_LITRES, 1, "mililitros"},
    {WORD_HALF, 50, "media|y media|y medio"},
    {WORD_HALF, 25, "y cuarto"},
    {WORD_HALF, 0, "un cuarto"},
    {WORD_DAYS, 0, "dia|dias"},
    {WORD_WEEKS, 0, "semana|semanas|sem"},
    {WORD_MINUTES, 0, "min|minuto|minutos"},
    {WORD_MEASURE, 0,
     "libra|libras|kilometros|kilometro|milla|millas|pulgada|pulgadas|pies|metros|metro|"
     "hectareas|por ciento|pesos|peso|dolares|dolar|mxn|grados|toneladas|onzas|mes|meses|"
     "anos|ano|segundos|kilos|kilo|euros|centavos|varos|voltios"},
    {WORD_STREET, 0, "calle|avenida|av"},

    /* when */
    {WORD_DAY, 0, "hoy|esta manana|esta tarde|esta noche|hoy dia|ahorita|de hoy"},
    {WORD_DAY, 1, "ayer|anoche|de ayer|ayer mismo"},
    {WORD_DAY, 2, "anteayer|antier|antes de ayer|antes de anoche"},
    {WORD_DAY, 7, "hace una semana"},
    {WORD_DAY, 1, "hace un dia"},
    {WORD_DAY, -1, "manana"},
    {WORD_DAY, -2, "pasado manana"},
    {WORD_WEEKDAY, 0, "lunes"},
    {WORD_WEEKDAY, 1, "martes"},
    {WORD_WEEKDAY, 2, "miercoles"},
    {WORD_WEEKDAY, 3, "jueves"},
    {WORD_WEEKDAY, 4, "viernes"},
    {WORD_WEEKDAY, 5, "sabado"},
    {WORD_WEEKDAY, 6, "domingo"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 0, "lun"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 1, "mar"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 2, "mie|mier"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 3, "jue"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 4, "vie"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 5, "sab"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 6, "dom"},
    {WORD_MONTH, 1, "enero|ene"},
    {WORD_MONTH, 2, "febrero|feb"},
    {WORD_MONTH, 3, "marzo|mar"},
    {WORD_MONTH, 4, "abril|abr"},
    {WORD_MONTH, 5, "mayo"},
    {WORD_MONTH, 6, "junio|jun"},
    {WORD_MONTH, 7, "julio|jul"},
    {WORD_MONTH, 8, "agosto|ago"},
    {WORD_MONTH, 9, "septiembre|setiembre|sep|sept"},
    {WORD_MONTH, 10, "octubre|oct"},
    {WORD_MONTH, 11, "noviembre|nov"},
    {WORD_MONTH, 12, "diciembre|dic"},
    {WORD_DAYPART, 1, "por la manana|en la manana|de la manana|temprano|temprano en la manana"},
    {WORD_DAYPART, 2, "por la tarde|en la tarde|de la tarde|por la noche|en la noche|de la noche"},
    {WORD_DAYPART, 0, "al mediodia|mediodia|pasado|al cierre"},
    {WORD_DAYPART | WORD_LINK | WORD_COURTESY, 0, "al final del dia|fin del dia"},
    {WORD_SINCE, 0, "hace"},
    {WORD_BEFORE_DAY, 0, "el|del|de|al|fecha|el pasado|este|con fecha|con fecha de"},
    {WORD_AT, 0, "a las|a la|como a las"},
    {WORD_NEXT, 0, "proximo|el proximo|para el|hasta el|antes del|este proximo"},
    {WORD_OF, 0, "de|del"},
};

/* What is spoken of. A phrase that says of itself what is missing ("no arranca") is firm. */
static const struct word_row topics[] = {
    /* trouble */
    {TOPIC_TROUBLE, 0,
     "quebro|kebro|quebre|quebrado|quebrada|quebraron|quebradas|rompio|ronpio|rompi|roto|rota|"
     "rotos|rotas|rompieron|trono|tronado|tronada|reviento|revento|reventado|"
     "reventada|rajo|rajado|rajada|partio|partido|partida|doblo|doblado|doblada|torcido|torcida|"
     "desprendio|desprendido|cayo|se cayo|zafo|zafado|zafada|safo|safado|safada|se salio|salio la "
     "banda|"
     "suelto|suelta|flojo|floja|flojas|flojos|aflojo|gastado|gastada|desgastada|desgastado|"
     "perdio|perdi|perdido|perdida|falta un|falta una|faltan tornillos|danado|danada|dano|"
     "descompuso|descompuesta|descompuesto|descompone|averiada|averiado|averia|fuera de "
     "servicio|fallando|falla|"
     "fallar|"
     "fallas|fallo|mala|malo|se jodio|jodida|fregada"},
    {TOPIC_TROUBLE, 0,
     "ponchada|ponchado|poncho|ponchadas|ponchados|ponche|pinchada|pinchado|pincho|pinchazo|"
     "desinflada|desinflado|llanta baja|llantas bajas|baja de aire|sin aire|sin gasolina|"
     "sin diesel|sin combustible|se quedo sin gasolina|se quedo sin diesel|falta aceite|"
     "baja de aceite|bajo de aceite|quema aceite|pierde aceite|pierde aire|pierde fuerza|"
     "aceite bajo|tira agua"},
    {TOPIC_TROUBLE, 0,
     "robada|robado|robaron|se robaron|se la "
     "robaron|atorada|atorado|atoro|atascada|atascado|atasco|trabada|trabado|trabo|se "
     "traba|atora|atasca|"
     "pegada|pegado|pego|amarrada|amarrado|muerta|muerto|murio|se murio|se apaga|se apago|"
     "se ahoga|se paro|se para|se detiene|cascabelea|jalonea|patina|resbala|se resbala|"
     "se calienta|calienta mucho|calentando|se esta calentando|sobrecalentada|sobrecalienta|"
     "recalienta|caliente|tapada|tapado|tapo|oxidada|barrida|barrido|se barrio"},
    {TOPIC_TROUBLE, 0,
     "ruido|ruidos|ruidosa|rechina|rechinido|rechinando|chilla|chillido|chirria|golpea|golpeteo|"
     "golpe|truena|tronando|vibra|vibracion|vibrando|tiembla|temblando|zumba|zumbido|cruje|"
     "suena raro|suena feo|suena mal|luz de aviso|luz de advertencia|luz prendida|"
     "luz de aceite|luz roja|foco prendido|alarma|codigo de error|problema|problemas|esta bajo|muy "
     "bajo|esta baja|bajo el nivel|nivel bajo|aceite lechoso|rebaba|se prendio la luz|prendio la "
     "luz|se prendio el foco|prendio el foco|"
     "se ladea|jala a la|jala para un lado|corta disparejo|necesita reparacion"},
    {TOPIC_TROUBLE | TOPIC_FIRM, 0,
     "no prende|no prendio|no prendia|no quiere prender|no enciende|no encendio|"
     "no quiere encender|no arranca|no arranco|no quiere arrancar|no funciona|no sirve|"
     "no jala|no jala bien|no camina|no anda|no anda bien|no avanza|no se mueve|no da marcha|"
     "no da vuelta|no gira|no corta|no corta bien|no levanta|ya no levanta|no sube|no baja|"
     "no carga|no trabaja|no trabaja bien|no responde|no entra|no tiene fuerza|sin fuerza|"
     "no hace nada|no acelera|no embraga|no engrana|ya no prende|ya no arranca|ya no jala|"
     "ya no funciona|ya no sirve|ya no camina|ya no corta|no tiene aceite|sin aceite|"
     "no tiene presion|sin presion|no hay presion|no quiere caminar|no quiere jalar|"
     "dejo de funcionar|dejo de jalar|no quiso prender|no quiso arrancar|le cuesta prender|"
     "le cuesta arrancar|no da chispa|sin chispa|no trae fuerza"},
    {TOPIC_TROUBLE | TOPIC_ESCAPES, 0,
     "tira|tirando|tirar|gotear|derramar|fuga|fugas|gotea|goteando|goteo|gotera|derrama|derramando|"
     "derramo|escurre|"
     "escurriendo|chorrea|chorreando|bota|botando|escupe|escupiendo|sale aceite|sale liquido|"
     "se le sale|se le sale el aceite|se sale|pierde|perdiendo|suda|sudando|brinca aceite"},
    {TOPIC_TROUBLE | TOPIC_DANGER | TOPIC_FIRM, 0,
     "no frena|no frenan|no frenaba|ya no frena|no tiene frenos|no trae frenos|sin frenos|sin "
     "freno|"
     "se quedo sin frenos|no para|no se para|no quiere parar|no se detiene|no se quiere detener|"
     "se arranca sola|se mueve sola|se fue sola|se va sola|camina sola|avanza sola|"
     "no se apaga|no se quiere apagar|no deja de girar"},
    {TOPIC_TROUBLE | TOPIC_DANGER, 0,
     "sale gasolina|sale la gasolina|atrapado|atrapada|quedo debajo|esta debajo|debajo de la "
     "maquina|lo atropello|fuego|incendio|se incendio|incendiando|llamas|en llamas|llama "
     "viva|se quema|quemando|"
     "se quemo|se esta quemando|huele a quemado|olor a quemado|quemado|humo|humea|humeando|"
     "ahumando|exploto|explosion|se volteo|volteo|volteada|volteado|se volco|volco|volcada|volcado|"
     "volcadura|se ladeo y cayo|herido|herida|heridos|lastimado|lastimada|se lastimo|lastimo|"
     "se corto|se corto la mano|sangre|sangrando|ambulancia|hospital|inconsciente|atrapado|"
     "atrapada|aplasto|aplastado|prensado|accidente|emergencia|se accidento|golpeado|"
     "se quebro el brazo|se quebro la pierna|se rompio el brazo|se rompio la pierna|chispas|"
     "llama al 911|llame al 911|llamen al 911|llamar al 911"},
    {TOPIC_FUEL, 0, "gasolina|combustible|diesel|gas|nafta"},
    {TOPIC_ESCAPES, 0,
     "se esta saliendo|esta saliendo|anda saliendo|huele|olor|huele "
     "mucho|apesta|oliendo"},
    {TOPIC_BRAKES, 0, "freno|frenos|los frenos|el freno"},
    {TOPIC_FAILS, 0,
     "fallaron|fallo|fallan|falla|se fueron|se fue|no sirven|no sirve|no funcionan|no funciona|"
     "no agarran|no agarra|no responden|tronaron|se acabaron|se acabo|malos|mal|no jalan|se "
     "gastaron"},
    {TOPIC_NEGATES, 0,
     "no|sin|ni|ya no|nunca|tampoco|nadie|nada de|ningun|ninguno|ninguna|no hay|no hace|no tiene|"
     "no trae|dejo de|se quito|se quito el|ya no hay|ya no tiene|ya no hace|ya no trae"},
    {TOPIC_PLAIN, 0,
     "sin problema|sin problemas|no hay problema|ningun problema|bombero|bomberos|"
     "tiempo muerto|punto muerto|dia perdido|al rojo vivo|muy caliente el dia|agua caliente|hace "
     "calor|"
     "nada malo|no esta mala|no esta malo|partido de"},
    {TOPIC_PLAIN, 0, "en reserva|esta en reserva|en servicio|esta en servicio"},
    {TOPIC_SOLVED, 0, "resuelto|resuelta|solucionado|solucionada"},

    /* where a machine is */
    {TOPIC_BOOK, 0,
     "reservar|reserva|reserve|reservada|reservado|agendar|agenda|agende|agendada|agendado|"
     "apartar|aparta|apartada|apartado|cita|con cita"},
    {TOPIC_BOOK, BOOK_DROPPED,
     "cita cancelada|reserva cancelada|cancelada la cita|cancele la cita|cancelen la cita|"
     "quite la cita"},
    {TOPIC_IN, 0,
     "en taller|en el taller|esta en taller|esta en el taller|entra|entro|entra al taller|"
     "entro al taller|ingresa|ingreso|ingresa al taller|ingreso al taller|llego al taller|adentro|"
     "dentro|entran|entraron|entran al taller|entraron al taller|llegaron al taller|"
     "estan en taller|estan en el taller"},
    {TOPIC_COMES, 0,
     "viene|vienen|vendra|vendran|llega|llegan|llegara|entrara|entraran|ingresara|va a entrar|"
     "van a entrar|va a venir|va al taller|van al taller|ira al taller|viene al taller|"
     "vienen al taller|llega al taller|la llevo|lo llevo|la llevo al taller|lo llevo al taller|"
     "la traigo|lo traigo"},
    {TOPIC_OUT, 0,
     "sale|salio|sale del taller|salio del taller|fuera del taller|fuera|afuera|recogida|recogido|"
     "salen|salieron|salen del taller|salieron del taller"},
    {TOPIC_GONE | TOPIC_FIRM, 0,
     "vendida|vendido|se vendio|vendimos|la vendimos|lo vendimos|la vendi|lo vendi|chatarra|"
     "a la chatarra|desechada|desechado|dada de baja|dado de baja|rematada|rematado|vendidas|"
     "vendidos|se vendieron|las vendimos|los vendimos"},
    {TOPIC_PARK, 0, "guardar|guardada|guardado|guardadas|guardados|aparcar|estacionar|parquear"},
    {TOPIC_BACK, 0,
     "vuelve|volvio|regresa|regreso|de vuelta|de regreso|de vuelta al trabajo|"
     "de regreso al trabajo|vuelve al trabajo|regresa al trabajo|regreso al trabajo|"
     "volvio al trabajo|vuelven|volvieron|regresan|regresaron"},
    {TOPIC_ASIDE, 0, "ya|ahora|se|ha sido|fue|ya fue|ya esta|apenas|otra vez|de nuevo"},
    {TOPIC_AHEAD, 0, "en|dentro de"},

    /* second thoughts */
    {TOPIC_RETRACTS, 0,
     "ups|upss|me equivoque|equivocado|equivocada|esta mal|estaba mal|incorrecto|incorrecta|"
     "no es correcto|olvidalo|olvidelo|ignoralo|ignorelo|me confundi|fue un error|es un error|"
     "error mio|correccion|numero equivocado|maquina equivocada|corrijo|"
     "me equivoque de maquina|era otra|lo escribi mal|lo puse mal|puse mal"},
    {TOPIC_SORRY, 0,
     "perdon|perdone|perdona|disculpe|disculpa|disculpen|digo|quise decir|quiero decir|"
     "mejor dicho|mas bien|perdon es|perdon era|perdon son|perdon eran|o sea|osea|espere|espera|"
     "no espera|no espere|debe ser|deberia ser|debia ser|son en realidad|en realidad|"
     "en realidad es|en realidad son|lo siento|quise poner|queria decir"},
    {TOPIC_RATHER, 0, "no|y no|en vez de|en lugar de|no la|no el|y no la|no es|no era|no de la"},

    /* readings told in words */
    {TOPIC_SAME, 0,
     "igual|igual que ayer|lo mismo|lo mismo que ayer|la misma|las mismas horas|mismas horas|"
     "el mismo|sigue igual|esta igual|igual que antes|sin cambio|sin cambios|misma lectura|"
     "la misma lectura|las mismas|igual q ayer|lo mismo q ayer|lo mismo de ayer|igual a ayer|"
     "igual que la ultima|lo mismo que antes"},
    {TOPIC_SAME, 1,
     "no se uso|no se ocupo|no la use|no la usamos|no lo use|no lo usamos|"
     "no la ocupe|no la ocupamos|no trabajo|no trabajo hoy|no se movio|no salio|no se prendio|"
     "no se utilizo|no jalo hoy|no corrio|sin usar|sin uso|no se trabajo|parada todo el dia|"
     "estuvo parada|no anduvo|no la prendi|no la prendimos|no la movimos|no la movi|no se ha "
     "usado"},
    {TOPIC_BEGINS, 0,
     "empieza|empezo|empece|empezando|inicia|inicio|inicie|comienza|comenzo|comence|arranque|"
     "empezamos|iniciamos|empezo en|empezo con|inicio en|inicio con|al empezar|al inicio|desde|"
     "entrada|empieza en|inicial"},
    {TOPIC_ENDS, 0,
     "termina|termino|termine|terminando|fin|final|finaliza|finalizo|acaba|acabo|acabe|cierra|"
     "cerro|terminamos|termino en|termino con|termina en|al terminar|al final|cierre|salida|"
     "acabo en|hasta"},
    {TOPIC_WORKED, 0,
     "trabaje|trabajo|trabajamos|trabajo por|corte|cortamos|jale|jalamos|le di|le dimos|"
     "anduve|use|la use|la usamos|usamos|estuve|le trabaje|le trabajamos|hice|hicimos|"
     "le puse|le metimos|le meti|trabajo unas|trabajaron"},
    {TOPIC_NUMBER, 0, "cero"},
    {TOPIC_NUMBER, 1, "uno|un|una"},
    {TOPIC_NUMBER, 2, "dos"},
    {TOPIC_NUMBER, 3, "tres"},
    {TOPIC_NUMBER, 4, "cuatro"},
    {TOPIC_NUMBER, 5, "cinco"},
    {TOPIC_NUMBER, 6, "seis"},
    {TOPIC_NUMBER, 7, "siete"},
    {TOPIC_NUMBER, 8, "ocho"},
    {TOPIC_NUMBER, 9, "nueve"},
    {TOPIC_NUMBER, 10, "diez"},
    {TOPIC_NUMBER, 11, "once"},
    {TOPIC_NUMBER, 12, "doce"},
    {TOPIC_NUMBER, 13, "trece"},
    {TOPIC_NUMBER, 14, "catorce"},
    {TOPIC_NUMBER, 15, "quince"},
    {TOPIC_NUMBER, 16, "dieciseis"},
    {TOPIC_NUMBER, 17, "diecisiete"},
    {TOPIC_NUMBER, 18, "dieciocho"},
    {TOPIC_NUMBER, 19, "diecinueve"},
    {TOPIC_NUMBER, 20, "veinte"},
    {TOPIC_NUMBER, 21, "veintiuno|veintiun|veintiuna"},
    {TOPIC_NUMBER, 22, "veintidos"},
    {TOPIC_NUMBER, 23, "veintitres"},
    {TOPIC_NUMBER, 24, "veinticuatro"},
    {TOPIC_NUMBER, 25, "veinticinco"},
    {TOPIC_NUMBER, 26, "veintiseis"},
    {TOPIC_NUMBER, 27, "veintisiete"},
    {TOPIC_NUMBER, 28, "veintiocho"},
    {TOPIC_NUMBER, 29, "veintinueve"},
    {TOPIC_NUMBER, 30, "treinta"},
    {TOPIC_NUMBER, 40, "cuarenta"},
    {TOPIC_NUMBER, 50, "cincuenta"},
    {TOPIC_NUMBER, 60, "sesenta"},
    {TOPIC_NUMBER, 70, "setenta"},
    {TOPIC_NUMBER, 80, "ochenta"},
    {TOPIC_NUMBER, 90, "noventa"},
    {TOPIC_NUMBER, 100, "cien|ciento"},
    {TOPIC_NUMBER, 200, "doscientos|doscientas"},
    {TOPIC_NUMBER, 300, "trescientos|trescientas"},
    {TOPIC_NUMBER, 400, "cuatrocientos|cuatrocientas"},
    {TOPIC_NUMBER, 500, "quinientos|quinientas"},
    {TOPIC_NUMBER, 600, "seiscientos|seiscientas"},
    {TOPIC_NUMBER, 700, "setecientos|setecientas"},
    {TOPIC_NUMBER, 800, "ochocientos|ochocientas"},
    {TOPIC_NUMBER, 900, "novecientos|novecientas"},
    {TOPIC_THOUSAND, 0, "mil"},
    {TOPIC_POINT, 0, "punto|coma"},

    {TOPIC_NEW_METER, 0,
     "medidor nuevo|nuevo medidor|horometro nuevo|nuevo horometro|reloj nuevo|nuevo reloj|"
     "contador nuevo|cambiaron el medidor|cambiaron el horometro|le pusieron medidor nuevo|"
     "le pusieron horometro nuevo|trae medidor nuevo|trae horometro nuevo|tiene medidor nuevo|"
     "tiene horometro nuevo|con medidor nuevo|con horometro nuevo"},

    /* places */
    {TOPIC_STREET, 0,
     "calle|avenida|av|camino|carretera|calzada|callejon|bulevar|boulevard|autopista|privada|"
     "andador|colonia|col|fraccionamiento|esquina|manzana|prolongacion|cerrada|calz"},
    {TOPIC_STREET_TOO, 0, "paseo|cerro|parque|plaza|rancho"},
    {TOPIC_COMPASS, 0, "norte|sur|este|oeste|oriente|poniente"},
    {TOPIC_PLACE, 0, "en|a|sobre|por|alla en"},

    /* services */
    {TOPIC_UPKEEP, 0,
     "servicio|servicios|mantenimiento|mantto|cambio de aceite|cambio de filtros|afinacion|"
     "revision|inspeccion|chequeo|cambio aceite|el servicio|engrase|cambio de aceite y filtros"},
    {TOPIC_SERVICED, 0,
     "hecho|hecha|servicio hecho|servicio listo|servicio "
     "terminado|listo|listos|lista|listas|hechos|hechas|cambie|"
     "cambiamos|cambiado|cambiada|le cambie|le cambiamos|le hice|le hicimos|se hizo|se le hizo|"
     "se cambio|se le cambio|ya quedo|quedo listo|quedo lista|realizado|"
     "realizada|aceite nuevo|filtros nuevos|filtro nuevo|engrase|engrasada|ya esta hecho|"
     "ya le cambie|ya le hice|se le puso|le puse|reemplace|reemplazado|cambio de aceite "
     "hecho|hice|hicimos|hizo"},
    {TOPIC_BOTH, 0, "ambos|ambas|los dos|las dos"},
    {TOPIC_ALL, 0, "todo|todos|todas|todo lo que toca|los tres|todos los servicios"},
    {TOPIC_SIDE, 1, "izq|izquierda|izquierdo|lado izquierdo|izda"},
    {TOPIC_SIDE, 2, "der|derecha|derecho|lado derecho|dcha"},
    {TOPIC_SIDE, 3, "deposito|tanque|deposito de expansion"},

    /* answers */
    {TOPIC_INTRODUCES, 0, "soy|aqui|habla|le habla|le escribe|le saluda|es|somos|de parte de|era"},
    {TOPIC_CHECKED, 0,
     "revisado|revisada|revise|revisamos|ya revise|ya revisamos|ya lo revise|ya la revise|"
     "ya revisado|checado|checada|cheque|ya cheque|lo cheque|la cheque|chequeado|chequeada|"
     "nivel bien|nivel ok|nivel correcto|el nivel esta bien|nivel esta bien|esta en la marca|"
     "en la marca|a la marca|llega a la marca|al nivel|a nivel|aceite bien|aceite ok|"
     "ya revise el aceite|ya revise el nivel|nivel revisado|aceite revisado|esta al nivel|"
     "esta a nivel|esta lleno|ya le revise|ya se reviso|se reviso|ya se checo|ya chequie"},
    {TOPIC_LEVEL, 0,
     "nivel|el nivel|aceite|el aceite|nivel de aceite|el nivel de aceite|marca|la marca|varilla"},
    {TOPIC_SPELLED, 0, "si|sii|siii|si senor"},
};

const struct word_table words_es = {rows, sizeof rows / sizeof rows[0], topics,
                                    sizeof topics / sizeof topics[0]};
