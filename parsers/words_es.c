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
    {WORD_PARK, 0, "guardar|guardada|guardado|aparcar|estacionar|parquear"},
    {WORD_BACK, 0,
     "vuelve|volvio|regresa|regreso|de vuelta|de regreso|de vuelta al trabajo|"
     "de regreso al trabajo|vuelve al trabajo|regresa al trabajo|regreso al trabajo|"
     "volvio al trabajo"},
    {WORD_DUE, 0,
     "pendiente|pendientes|vence|vencen|toca|tocan|vencimientos|vencimiento|por vencer|"
     "que toca|que vence|que vencen|le toca|cuando toca|cuando le toca"},
    {WORD_UNDO, 0, "deshacer|deshaz|anular|anula|anulalo"},
    {WORD_NO, 0, "no"},
    {WORD_HELP, 0, "ayuda|ayudame|informacion|info"},
    {WORD_STOP, 0, "alto|parar|pare|para|baja|dar de baja|de baja|no mas mensajes|no mas textos"},
    {WORD_STOP | WORD_CANCEL, 0, "cancelar|cancela|terminar"},
    {WORD_START, 0, "iniciar|inicio|empezar|comenzar|reanudar|alta"},

    /* answers and manners */
    {WORD_ASSENT, 0,
     "si|sip|sii|siii|claro|claro que si|correcto|correcta|asi es|exacto|exactamente|"
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
     "por favor|porfavor|porfa|porfis|x favor|gracias|muchas gracias|mil gracias|grasias|"
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
     "me|lo|eso|esto|todo|ultimo|el ultimo|otra vez|de nuevo|ahora|lo ultimo|"
     "mi ultimo mensaje|el mensaje|necesito|ya|a mi|mas|de|dame|dame de|darme|quiero|"
     "darme de|servicio|maquinas|esta semana|hay|que hay|lo que mande"},

    /* around a machine and its figure */
    {WORD_LINK, 0,
     "en|esta en|esta a|esta con|tiene|tenia|marca|marco|marcaba|marcando|esta marcando|"
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
    {WORD_OLD, 0, "viejo|vieja|anterior|ultimo|medidor viejo|era|antes"},
    {WORD_NEW, 0, "nuevo|nueva|medidor nuevo|primero|ahora"},
    {WORD_ROUGHLY, 0,
     "aprox|aproximadamente|mas o menos|o algo asi|casi|creo|creo que|yo creo|tal vez|quizas"},
    {WORD_ABOUT, 0,
     "casi|como|como en|aprox|aproximadamente|mas o menos|alrededor de|cerca de|unos|unas|"
     "creo que|por ahi de|tal vez|quizas|quiza|mas de|menos de|poco mas de"},
    {WORD_INSTEAD, 0,
     "o|u|perdon|digo|quise decir|quiero decir|corrijo|mejor dicho|disculpa|disculpe|"
     "osea|o sea|ups|mas bien|hasta|no|eran|era|es|son|antes|ahora|me equivoque|a|de|"
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
     "si|hasta|hasta que|antes|antes de|antes de que|despues|despues de|quizas|quiza|"
     "tal vez|talvez|debe|deberia|deben|debemos|necesita|necesito|necesitan|quiero|quiere|"
     "voy|vamos|van a|va a llegar|recuerda|recuerdame|recuerden|recuerde|recordar"},
    {WORD_PLANS, 0,
     "recordatorio|avisa|avisame|avise|avisen|manana|pronto|proximo|proxima|espero|"
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
    {WORD_HALF, 0, "media|y media|y medio|un cuarto|y cuarto|punto cinco"},
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
    {WORD_DAY, -1, "manana|pasado manana"},
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

const struct word_table words_es = {rows, sizeof rows / sizeof rows[0]};
