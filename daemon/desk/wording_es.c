/* SPDX-License-Identifier: MIT
 * wording_es: the sentences in Spanish, with words that need none of the letters a, i, o, u with an
 * acute accent, which the default alphabet of GSM lacks (TS 23.038 6.2.1); it has the others. */
#include "daemon/desk/wording.h"

const struct wording wording_es = {
    .language = "es",
    .date = "D M",
    .date_year = "D M Y",
    .on = "el",
    .today_at = "hoy a las",
    .months = {"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"},
    .sentences =
        {
            [WORDING_NOTED] = "{machine} {hours}h anotado.",
            [WORDING_NOTED_ON] = "{machine} {hours}h anotado para el {day}.",
            [WORDING_ALREADY] = "{machine} {hours}h ya consta.",
            [WORDING_SOFT] = "Son {count}h diarias: DESHACER si no es correcto.",
            [WORDING_BACK_AT_WORK] = "Ya vuelve al trabajo.",
            [WORDING_RECHECK] = "Revise el nivel de aceite en frio: en la marca, no por encima. "
                                "Responda SI al terminar.",
            [WORDING_RECHECKED] = "{machine}: nivel revisado, anotado.",
            [WORDING_SHOP_RECORDS] = "Los servicios los anota el taller.",
            [WORDING_DONE_FORM] = "Para un servicio mande {machine} HECHO {plan} {hours}.",
            [WORDING_FORM] = "Mande {machine} y sus horas, por ejemplo {machine} 1340h.",
            [WORDING_FINE] = "{title}: toca a {due}h, en {left}h, hacia el {day}.",
            [WORDING_FINE_HOURS] = "{title}: toca a {due}h, en {left}h.",
            [WORDING_FINE_CALENDAR] = "{title}: toca antes del {day}, o a {due}h.",
            [WORDING_COMING] = "{title} ya se acerca: a {due}h, en {left}h, hacia el {day}.",
            [WORDING_COMING_HOURS] = "{title} ya se acerca: a {due}h, en {left}h.",
            [WORDING_COMING_CALENDAR] = "{title} ya se acerca: antes del {day}.",
            [WORDING_DUE] = "{title}: toca ahora (a {due}h).",
            [WORDING_DUE_CALENDAR] = "{title}: toca ahora ({day}).",
            [WORDING_OVERDUE] = "{title}: atrasado {left}h.",
            [WORDING_OVERDUE_CALENDAR] = "{title}: atrasado desde el {day}.",
            [WORDING_NO_RECORD] = "No consta {title}: se pregunta al taller.",
            [WORDING_NO_RECORD_SHOP] =
                "No consta {title}: mande {machine} HECHO {plan} y sus horas.",
            [WORDING_BRING] = "Por favor, llévelo al taller.",
            [WORDING_ALSO_DUE] = "También toca: {list}.",
            [WORDING_STANDS_AT] = "{machine} {hours}h el {day}.",
            [WORDING_LAID_UP] = "{machine} se encuentra parado.",
            [WORDING_UNREAD] =
                "{machine}: no hay lectura. Mande sus horas, por ejemplo {machine} 1340h.",
            [WORDING_SERVICE] = "{machine} {hours}h: {title} hecho, anotado.",
            [WORDING_SERVICE_ALREADY] = "{machine} {hours}h: {title} ya consta.",
            [WORDING_NEXT] = "El siguiente a {due}h, en {left}h, hacia el {day}.",
            [WORDING_NEXT_HOURS] = "El siguiente a {due}h, en {left}h.",
            [WORDING_NEXT_CALENDAR] = "El siguiente antes del {day}, o a {due}h.",
            [WORDING_CORRECTED] = "{machine} {hours}h anotado en lugar de {last}h.",
            [WORDING_CORRECTED_FORCED] = "{machine} {hours}h anotado en lugar de {last}h. Es un "
                                         "gran salto: DESHACER lo anula.",
            [WORDING_NOTHING_TO_CORRECT] =
                "{machine}: no hay lectura que corregir. Mande {machine} y sus horas.",
            [WORDING_SWAPPED] = "{machine}: nuevo contador, antes {last}h, ahora {hours}h. Las "
                                "horas siguen sumando.",
            [WORDING_ROLLED_OVER] =
                "{machine} {hours}h anotado: el contador dio la vuelta tras {last}h.",
            [WORDING_LATER] = "{machine}: sin recordatorios hasta el {day}.",
            [WORDING_NOTHING_DUE] = "{machine}: no toca nada por ahora.",
            [WORDING_PARKED] = "{machine} parado: sin recordatorios hasta VUELVE o una lectura.",
            [WORDING_PARKED_ALREADY] = "{machine} ya consta como parado.",
            [WORDING_BACK] = "{machine} vuelve al trabajo.",
            [WORDING_BACK_ALREADY] = "{machine} ya trabaja.",
            [WORDING_SHOP_ONLY] =
                "{machine}: eso lo anota el taller. Una lectura se manda como {machine} 1340h.",
            [WORDING_TAKEN_BACK] = "Anulado: {words}",
            [WORDING_NOTHING_TO_TAKE_BACK] = "No hay nada suyo de las pasadas 24 horas que anular.",
            [WORDING_DUE_ITEM_DUE] = "{machine} {plan} toca ahora",
            [WORDING_DUE_ITEM_OVERDUE] = "{machine} {plan} atrasado",
            [WORDING_DUE_ITEM_COMING] = "{machine} {plan} toca en {left}h",
            [WORDING_DUE_ITEM_CALENDAR] = "{machine} {plan} toca antes del {day}",
            [WORDING_DUE_ITEM_NO_RECORD] = "{machine} {plan} no consta",
            [WORDING_DUE_MORE] = "y otros {count}",
            [WORDING_DUE_NOTHING] = "No toca nada por ahora.",
            [WORDING_ASK_SLIP] =
                "{machine} {hours}h? Eran {last}h {when}. ¿Quiso decir {offer}h? SI o NO.",
            [WORDING_ASK_SLIP_UNREAD] = "{machine} {hours}h? ¿Quiso decir {offer}h? SI o NO.",
            [WORDING_ASK_OTHER_MACHINE] = "{machine} {hours}h? Eran {last}h {when}. ¿Quiso decir "
                                          "{other} {hours}h? SI o NO.",
            [WORDING_ASK_LAST_WRONG] = "{machine} {hours}h? Eran {last}h {when}. ¿Fue un error "
                                       "{last}h? SI pone {hours}h en su lugar, o NO.",
            [WORDING_ASK_ROLL_OVER] =
                "{machine} {hours}h? Eran {last}h {when}. ¿El contador dio la vuelta? SI o NO.",
            [WORDING_ASK_SWAP] = "{machine} {hours}h de {person}; eran {last}h el {day}. ¿Es un "
                                 "contador nuevo? SI o NO.",
            [WORDING_ASK_FORCE] = "{machine} {hours}h de {person}, otra vez; eran {last}h el "
                                  "{day}. ¿Vale {hours}h? SI o NO.",
            [WORDING_ASK_SURE] = "{machine} {hours}h: ¿es correcto? SI o NO.",
            [WORDING_ASK_TWO_FIGURES] = "{machine}: ¿{hours}h o {offer}h? Mande la cifra correcta.",
            [WORDING_ASK_WHICH_MACHINE] = "{words}: elija entre {list}. Mande su nombre.",
            [WORDING_ASK_PLAN] = "{machine} {hours}h: ¿qué servicio, {list}? Mande su nombre.",
            [WORDING_ASK_QUANTITY] = "{machine} {hours}h, {title}: ¿son {count} {unit}? SI o NO.",
            [WORDING_ASK_PAST_SERVICE] =
                "{machine} {hours}h: ¿{title} hecho entonces, antes de {last}h? SI o NO.",
            [WORDING_REPLACES_QUESTION] = "Mi pregunta anterior queda anulada.",
            [WORDING_NOT_CHANGED] =
                "{machine}: no se cambia nada. Mande las horas correctas cuando pueda.",
            [WORDING_NO_QUESTION] =
                "No hay pregunta abierta. Una lectura se manda como {machine} 1340h.",
            [WORDING_SETTLED_ALREADY] = "{machine}: eso ya se ha resuelto.",
            [WORDING_TOO_HIGH] = "{machine} {hours}h no se guarda: eran {last}h {when}, como "
                                 "mucho {most}h. Mire otra vez, por favor.",
            [WORDING_TOO_LOW] =
                "{machine} {hours}h no se guarda: eran {last}h {when}. Mire otra vez, por favor.",
            [WORDING_NO_SUCH_FIGURE] = "{machine} {hours}h no se guarda: su contador no puede "
                                       "marcar eso. Mire otra vez, por favor.",
            [WORDING_SHOP_ASKED] = "{machine} {hours}h no se guarda: eran {last}h {when}. Se ha "
                                   "preguntado al taller.",
            [WORDING_SHOP_TOOK] = "{machine} {hours}h ya consta: el taller lo confirma.",
            [WORDING_SHOP_LEFT] =
                "{machine} {hours}h no se guarda. Mire otra vez o pregunte al taller.",
            [WORDING_ONE_AT_A_TIME] =
                "{machine} {hours}h no se guarda: repita tras responder a mi pregunta.",
            [WORDING_NO_SUCH_MACHINE] = "No hay {words} en la lista. Revise el nombre, por favor.",
            [WORDING_YOURS] = "Los suyos: {list}.",
            [WORDING_NO_SUCH_PLAN] = "{machine} no tiene el servicio {words}. Tiene: {list}.",
            [WORDING_NO_FLUID] = "{machine}: los materiales de {title} no llevan aceite. Mande sin "
                                 "cantidad, por favor.",
            [WORDING_BAD_DATE] = "{machine} {hours}h no se guarda: la fecha no queda clara. Mande "
                                 "{machine} {hours}h ayer.",
            [WORDING_FUTURE] = "{machine} {hours}h no se guarda: esa fecha no ha llegado.",
            [WORDING_BAD_DAYS] = "Mande un plazo de 1 a 60, como {machine} LUEGO 7 por una semana.",
            [WORDING_NEEDS_FIGURE] = "Mande con las horas, por ejemplo {words}.",
            [WORDING_NOT_UNDERSTOOD] = "No se entiende. Mande equipo y horas, por ejemplo "
                                       "{machine} 1340h, y luego lo que deba saber el taller. "
                                       "AYUDA dice el resto.",
            [WORDING_TEN_ONLY] = "Solo se toman los diez primeros.",
            [WORDING_OPTED_OUT] = "Ha mandado ALTO: no se cambia nada. Mande START primero.",
            [WORDING_NO_PICTURES] =
                "No se pueden leer fotos. Mande la cifra como texto, por ejemplo M12 1340h.",
            [WORDING_HELP_CREW] = "{shop}: mande equipo y horas: {machine} 1340h. Con ? da su "
                                  "estado. PENDIENTE, DESHACER, ALTO. Pare antes de escribir.",
            [WORDING_HELP_SHOP] = "{shop}: {machine} 1340h o HECHO 1340 5qt. FIX horas, SWAP antes "
                                  "ahora, LATER 7, PARK, BACK, DUE, UNDO, ALTO.",
            [WORDING_STOPPED] = "{shop}: no recibe textos desde ahora. Sus lecturas se guardan. "
                                "START los activa otra vez.",
            [WORDING_STARTED] = "{shop}: recibe textos otra vez. Una lectura se manda como "
                                "{machine} 1340h. ALTO los quita.",
            [WORDING_TELL_HEAD] = "{shop}:",
            [WORDING_TELL_COMING] =
                "{machine}{site} ya se acerca: {title} a {due}h, en {left}h, hacia el {day}.",
            [WORDING_TELL_COMING_HOURS] =
                "{machine}{site} ya se acerca: {title} a {due}h, en {left}h.",
            [WORDING_TELL_COMING_CALENDAR] =
                "{machine}{site} ya se acerca: {title} antes del {day}.",
            [WORDING_TELL_DUE] = "{machine}{site} toca ahora: {title} a {due}h, marca {hours}h.",
            [WORDING_TELL_DUE_CALENDAR] =
                "{machine}{site} toca ahora: {title} antes del {day}, marca {hours}h.",
            [WORDING_TELL_OVERDUE] = "{machine}{site} ATRASADO {left}h: {title}, marca {hours}h.",
            [WORDING_TELL_OVERDUE_CALENDAR] =
                "{machine}{site} ATRASADO desde el {day}: {title}, marca {hours}h.",
            [WORDING_TELL_NO_RECORD] =
                "{machine}{site} marca {hours}h y no consta {title}. ¿A qué horas "
                "fue? Mande {machine} HECHO {plan} y horas.",
            [WORDING_TELL_BACK_AT_WORK] =
                "{machine} se encontraba parado y vuelve al trabajo: {hours}h de {person}.",
            [WORDING_TELL_TAKEN_BACK] = "{person} anula: {words}",
            [WORDING_TELL_SILENT] =
                "{machine}: sin lectura desde el {day}, se pregunta a {person}.",
            [WORDING_TELL_UNCHECKED] = "{machine}: nivel de aceite sin confirmar tras {title}.",
            [WORDING_TELL_MORE] = "Y otros {count}: mande PENDIENTE.",
            [WORDING_TELL_KIT] = "Tenga listo: {list}.",
            [WORDING_CHASE_READING] = "{machine}: sin lectura desde el {day}. Mande sus horas, por "
                                      "ejemplo {machine} 1340h.",
            [WORDING_CHASE_LEVEL] = "{machine}: ¿ha revisado el nivel de aceite en frio, en la "
                                    "marca, no por encima? Responda SI al terminar.",
            [WORDING_SUMMARY] = "{shop}: todo funciona. Desde el resumen anterior: {count} textos; "
                                "toca {count_due}, se acerca {count_coming}.",
            [WORDING_SUMMARY_STRANGERS] = "Textos de desconocidos, sin respuesta: {count}.",
            [WORDING_SUMMARY_SET_ASIDE] =
                "Textos que no se pudieron leer, vea la lista de textos: {count}.",
            [WORDING_SUMMARY_REMARK] = "{machine}, {person}: {words}.",
        },
};
