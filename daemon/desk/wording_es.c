/* SPDX-License-Identifier: MIT
 * wording_es: the sentences in Spanish, as a crew from Mexico or Central America says them; a machine
 * is "la maquina". The default alphabet of GSM lacks a, i, o, u with an acute accent (TS 23.038
 * 6.2.1) and has the others: a word that needs one of them is avoided, or goes without it, as people
 * type on a phone. */
#include "daemon/desk/wording.h"

const struct wording wording_es = {
    .language = "es",
    .date = "D M",
    .date_year = "D M Y",
    .today_12 = "hoy (T:N P)",
    .today_24 = "hoy (H:N)",
    .on = "el",
    .months = {"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic"},
    .sentences =
        {
            [WORDING_NOTED] = "{machine} {hours}h anotado.",
            [WORDING_NOTED_ON] = "{machine} {hours}h anotado al {day}.",
            [WORDING_ALREADY] = "{machine} {hours}h ya estaba anotado.",
            [WORDING_SOFT] = "Son {count}h diarias. Si no es correcto, mande DESHACER.",
            [WORDING_BACK_AT_WORK] = "Ya vuelve a trabajar.",
            [WORDING_RECHECKED] = "Gracias: nivel de {machine} revisado, anotado.",
            [WORDING_SHOP_RECORDS] = "Los servicios los anota el taller.",
            [WORDING_DONE_FORM] = "Para anotar un servicio mande {machine} HECHO {plan} {hours}.",
            [WORDING_FORM] = "Por favor mande {machine} y sus horas{example}.",
            [WORDING_LIKE] = ", por ejemplo {words} {last}h",
            [WORDING_FINE] = "{title}: le toca a las {due}h, faltan {left}h, por el {day}.",
            [WORDING_FINE_HOURS] = "{title}: le toca a las {due}h, faltan {left}h.",
            [WORDING_FINE_CALENDAR] = "{title}: le toca antes del {day}, o a las {due}h.",
            [WORDING_COMING] = "Pronto toca {title} a {due}h, faltan {left}h, por el {day}.",
            [WORDING_COMING_HOURS] = "Pronto toca {title} a {due}h, faltan {left}h.",
            [WORDING_COMING_CALENDAR] = "Pronto toca {title}, antes del {day}.",
            [WORDING_DUE] = "Ya le toca {title} (a las {due}h).",
            [WORDING_DUE_CALENDAR] = "Ya le toca {title} (para el {day}).",
            [WORDING_OVERDUE] = "Atrasado {left}h: {title}.",
            [WORDING_OVERDUE_CALENDAR] = "Atrasado desde el {day}: {title}.",
            [WORDING_NO_RECORD] = "No hay registro de {title}; ya le pregunté al taller.",
            [WORDING_NO_RECORD_SHOP] =
                "No hay registro de {title}: mande {machine} HECHO {plan} y sus horas.",
            [WORDING_BRING] = "Llévela al taller, por favor.",
            [WORDING_BRING_ON] = "Llévela al taller el {day}, por favor.",
            [WORDING_ALSO_DUE] = "También le toca: {list}.",
            [WORDING_STANDS_AT] = "{machine} {hours}h el {day}.",
            [WORDING_LAID_UP] = "{machine} queda parada por la temporada.",
            [WORDING_IN_SHOP_SINCE] = "En el taller desde el {day}.",
            [WORDING_BOOKED_FOR] = "Con cita para el {day}.",
            [WORDING_UNREAD] = "{machine}: no hay lectura. Por favor mande {machine} y sus horas.",
            [WORDING_SERVICE] = "{machine} {hours}h: servicio anotado, {title}{list}{when}.",
            [WORDING_SERVICE_ALREADY] =
                "{machine} {hours}h: {title}{list}{when} ya estaba anotado.",
            [WORDING_NEXT] = "El siguiente a las {due}h, faltan {left}h, por el {day}.",
            [WORDING_NEXT_HOURS] = "El siguiente a las {due}h, faltan {left}h.",
            [WORDING_NEXT_CALENDAR] = "El siguiente antes del {day}, o a las {due}h.",
            [WORDING_CORRECTED] = "{machine} {hours}h anotado en lugar de {last}h.",
            [WORDING_CORRECTED_FORCED] = "{machine} {hours}h anotado en lugar de {last}h. Es un "
                                         "salto grande: para quitarlo mande DESHACER.",
            [WORDING_CORRECTED_MACHINE] =
                "{machine} {hours}h anotado; {last}h de {other} se quita.",
            [WORDING_NOTHING_TO_CORRECT] =
                "{machine} no tiene lectura que corregir. Mande {machine} y sus horas.",
            [WORDING_SWAPPED] = "{machine}: medidor nuevo anotado. El viejo {last}h, el nuevo "
                                "{hours}h; sus horas siguen.",
            [WORDING_ROLLED_OVER] =
                "{machine} {hours}h anotado: el medidor dio la vuelta después de {last}h.",
            [WORDING_LATER] = "{machine}: sin recordatorios hasta el {day}.",
            [WORDING_NOTHING_DUE] = "{machine}: por ahora no le toca nada.",
            [WORDING_PARKED] = "{machine} parada por la temporada: sin recordatorios hasta que "
                               "mande VUELVE o llegue una lectura.",
            [WORDING_PARKED_ALREADY] = "{machine} ya estaba parada por la temporada.",
            [WORDING_BACK] = "{machine} vuelve a trabajar.",
            [WORDING_BACK_ALREADY] = "{machine} ya estaba trabajando.",
            [WORDING_BOOKED] =
                "{machine} tiene cita para el {day}. Sin recordatorios hasta entonces.",
            [WORDING_BOOKED_INSTEAD] = "{machine} tiene cita para el {day} en vez del {when}. Sin "
                                       "recordatorios hasta entonces.",
            [WORDING_BOOKED_ALREADY] = "{machine} ya tiene cita para el {day}.",
            [WORDING_BOOK_DAY] =
                "{machine}: ¿qué dia? Mande {machine} RESERVA y un dia o una fecha que venga.",
            [WORDING_BOOK_PAST] = "{machine} sin cita: el {day} ya es pasado. Mande {machine} "
                                  "RESERVA y un dia que venga.",
            [WORDING_BOOK_LEFT] =
                "Bien, {machine} queda sin cita. Mande {machine} RESERVA y otro dia.",
            [WORDING_BOOK_STAYS] = "{machine} sigue con cita para el {day}. Para quitarla mande "
                                   "{machine} SALE, o {machine} RESERVA y otro dia.",
            [WORDING_BOOK_IN_SHOP] = "{machine} esta en el taller desde el {day}. Mande {machine} "
                                     "SALE al salir, y luego la cita.",
            [WORDING_IN] = "{machine} entra al taller. Mande {machine} SALE cuando salga.",
            [WORDING_IN_ALREADY] = "{machine} ya estaba en el taller, desde el {day}.",
            [WORDING_OUT] = "{machine} sale del taller y vuelve al trabajo.",
            [WORDING_OUT_BOOKING] = "{machine}: la cita del {day} queda anulada.",
            [WORDING_OUT_ALREADY] = "{machine} no estaba en el taller, nada cambia. Para una cita "
                                    "mande {machine} RESERVA y un dia.",
            [WORDING_WHERE_FUTURE] =
                "{machine}: ese dia no ha llegado. Mande el mensaje ese dia, por favor.",
            [WORDING_IN_FUTURE] =
                "{machine}: ese dia no ha llegado. Para una cita mande {machine} RESERVA y el dia.",
            [WORDING_WHERE_DAY] = "{machine}: no entiendo el dia. Mande otra vez con un dia o "
                                  "una fecha, por favor.",
            [WORDING_GONE] = "{machine} queda de baja: ya no le toca nada, su registro se guarda. "
                             "{machine} VUELVE la trae de vuelta.",
            [WORDING_GONE_ALREADY] = "{machine} ya estaba de baja, desde el {day}.",
            [WORDING_GONE_SHOP] = "No guardado: {machine} esta de baja desde el {day}. Si ya esta "
                                  "de vuelta, mande antes {machine} VUELVE.",
            [WORDING_GONE_CREW] = "{machine} se dio de baja el {day}: no guardado. Ya se avisa al "
                                  "taller, por si usted la tiene.",
            [WORDING_GONE_CONFIG] = "{machine} esta de baja en la lista del taller desde el {day}. "
                                    "El administrador la quita primero.",
            [WORDING_GONE_STANDS] = "{machine} esta de baja desde el {day}. Su registro se guarda.",
            [WORDING_RENAMED] = "{other} ahora es {machine}.",
            [WORDING_SHOP_ONLY] =
                "{machine}: eso lo anota el taller. Usted puede mandar sus horas{example}.",
            [WORDING_TAKEN_BACK] = "Anulado: {words}",
            [WORDING_TROUBLE_TOLD] = "{machine}: {words}. Anotado, ya le aviso al taller.",
            [WORDING_TROUBLE_LATER] =
                "{machine}: {words}. Anotado, le aviso al taller en cuanto abra.",
            [WORDING_TROUBLE_KEPT] =
                "{machine}: {words}. Anotado, queda abierto hasta que mande RESUELTO.",
            [WORDING_TROUBLE_ALREADY] = "{machine}: {words}. Ya estaba anotado, el taller lo sabe.",
            [WORDING_TROUBLE_UNHEARD] = "{machine}: {words}. Anotado, pero nadie del taller recibe "
                                        "mensajes ahora. Por favor llame.",
            [WORDING_TROUBLE_UNNAMED] = "{words}. Anotado, le aviso al taller.",
            [WORDING_DANGER] = "Pare {machine} y aleje a la gente. Si alguien corre peligro, llame "
                               "primero a emergencias. Ya le aviso al taller.",
            [WORDING_DANGER_UNNAMED] =
                "Pare la maquina y aleje a la gente. Si alguien corre peligro, llame primero a "
                "emergencias. Ya le aviso al taller.",
            [WORDING_DANGER_UNHEARD] = "Pare la maquina, aleje a la gente, llame primero a "
                                       "emergencias. Nadie del taller recibe mensajes: llame.",
            [WORDING_DANGER_WORDS] = "Anotado: {words}.",
            [WORDING_REMARK] = "{machine}: gracias, anotado. El taller lo va a leer.",
            [WORDING_REMARK_KEPT] = "{machine}: anotado como comentario, nada cambia.",
            [WORDING_REMARK_PASSED] = "Su nota le llega al taller.",
            [WORDING_SOLVED] = "{machine}: anotado como resuelto.",
            [WORDING_SOLVED_ALREADY] = "{machine}: no queda ninguna falla abierta.",
            [WORDING_LEVEL_OPEN] = "Gracias. Falta revisar el nivel de aceite de {machine}: "
                                   "responda SI cuando lo haya revisado.",
            [WORDING_LEVEL_NO] =
                "{machine}: entendido, le aviso al taller que el nivel de aceite no es correcto.",
            [WORDING_LEVEL_WORDS] = "{machine}: ya le aviso al taller. Falta revisar el nivel de "
                                    "aceite: responda SI cuando lo haya revisado.",
            [WORDING_UNDO_OR_SHOP] =
                "Si la anterior fue la equivocada, mande DESHACER o pregunte al taller.",
            [WORDING_ASKED_BEFORE] =
                "{machine} {hours}h no se guardo: usted dijo NO. Si la anterior fue la equivocada, "
                "mande DESHACER o pregunte al taller.",
            [WORDING_LAST_SAVED] = "Eso no lo entiendo. Su mensaje anterior ya lo tengo: {words}.",
            [WORDING_LAST_UNSAVED] =
                "Eso no lo entiendo. Su mensaje anterior tampoco se guardo: {words}.",
            [WORDING_STOP_UNDO] = "Si solo quiere quitar su lectura anterior, mande DESHACER.",
            [WORDING_SERVICE_COMPLETED] =
                "{machine} {hours}h: {title}{list}{when}, registro completado.",
            [WORDING_SERVICE_DAY_WANTED] =
                "¿En qué fecha fue? Mande {machine} HECHO {words}{hours} y la fecha.",
            [WORDING_NOTHING_TO_TAKE_BACK] = "Nada que anular: DESHACER solo quita su mensaje "
                                             "anterior, de las pasadas 24 horas.",
            [WORDING_DUE_ITEM_DUE] = "{machine} {plan} ya le toca",
            [WORDING_DUE_ITEM_OVERDUE] = "{machine} {plan} va con atraso",
            [WORDING_DUE_ITEM_COMING] = "{machine} {plan} toca en {left}h",
            [WORDING_DUE_ITEM_CALENDAR] = "{machine} {plan} antes del {day}",
            [WORDING_DUE_ITEM_NO_RECORD] = "{machine} {plan} sin registro",
            [WORDING_DUE_ITEM_WANTED] = "{machine} sin lectura desde el {day}, unas {last}h",
            [WORDING_DUE_ITEM_BOOKED] = "(cita {day})",
            [WORDING_DUE_ITEM_IN_SHOP] = "(en el taller)",
            [WORDING_DUE_MORE] = "y otros {count}",
            [WORDING_DUE_NOTHING] = "Por ahora no toca nada.",
            [WORDING_DUE_SHORT] =
                "Me falta memoria, por ahora no hay lista. Por favor repita PENDIENTE mas tarde.",
            [WORDING_ASK_SLIP] =
                "¿{machine} {hours}h? Marcaba {last}h {when}. ¿Quiso decir {offer}h? SI o NO.",
            [WORDING_ASK_SLIP_UNREAD] = "¿{machine} {hours}h? ¿Quiso decir {offer}h? SI o NO.",
            [WORDING_ASK_OTHER_MACHINE] = "¿{machine} {hours}h? Marcaba {last}h {when}. ¿Quiso "
                                          "decir {other} {hours}h? SI o NO.",
            [WORDING_ASK_LAST_WRONG] = "¿{machine} {hours}h? Marcaba {last}h {when}. ¿Fue un error "
                                       "{last}h? SI pone {hours}h en su lugar, o NO.",
            [WORDING_ASK_ROLL_OVER] =
                "¿{machine} {hours}h? Marcaba {last}h {when}. ¿El medidor dio la vuelta? SI o NO.",
            [WORDING_ASK_SWAP] = "{person} manda {machine} {hours}h; marcaba {last}h el {day}. ¿Es "
                                 "un medidor nuevo? SI o NO.",
            [WORDING_ASK_FORCE] = "{person} manda otra vez {machine} {hours}h; marcaba {last}h el "
                                  "{day}. ¿Anoto {hours}h? SI o NO.",
            [WORDING_ASK_SURE] = "{machine} {hours}h: ¿es correcto? SI o NO.",
            [WORDING_ASK_TWO_FIGURES] = "{machine}: ¿{hours}h o {offer}h? Mande la cifra correcta.",
            [WORDING_ASK_REPLACE] = "¿{machine} {hours}h en lugar de {last}h? SI o NO.",
            [WORDING_ASK_METER] = "¿{machine} {hours}h? Marcaba {last}h {when}. ¿De veras marca "
                                  "{hours}h? Responda SI, o mande lo que marca.",
            [WORDING_ASK_SERVICE] = "{machine} {hours}h: ¿ya se hizo {title}? SI o NO.",
            [WORDING_ASK_WHICH_TROUBLE] = "{words}: anotado. ¿De cual maquina? Mande su nombre.",
            [WORDING_ASK_WHICH_MACHINE] = "{words}: ¿cual de ellas, {list}? Mande su nombre.",
            [WORDING_ASK_PLAN] = "{machine} {hours}h: ¿qué servicio, {list}? Mande su nombre.",
            [WORDING_ASK_QUANTITY] = "{machine} {hours}h, {title}: ¿son {count} {unit}? SI o NO.",
            [WORDING_ASK_PAST_SERVICE] =
                "{machine} {hours}h: ¿se hizo {title} entonces, antes de {last}h? SI o NO.",
            [WORDING_ASK_BOOK] = "{machine}: el taller cierra el {day} y abre el {when}. ¿Cita "
                                 "para el {day} de todos modos? SI o NO.",
            [WORDING_ASK_COMING] = "{machine} no ha llegado. ¿Le hago cita para el {day}? SI o NO.",
            [WORDING_REPLACES_QUESTION] = "Olvide mi pregunta anterior.",
            [WORDING_NOT_CHANGED] =
                "Bien, {machine} queda como estaba. Mande las horas correctas cuando pueda.",
            [WORDING_NO_QUESTION] = "Gracias, pero no espero respuesta. Para una lectura mande "
                                    "{machine} y sus horas{example}.",
            [WORDING_SETTLED_ALREADY] = "{machine}: eso ya queda resuelto.",
            [WORDING_TOO_HIGH] = "{machine} {hours}h no se guardo: marcaba {last}h {when}, no "
                                 "puede pasar de {most}h. Revise otra vez.",
            [WORDING_TOO_LOW] = "{machine} {hours}h no se guardo: marcaba {last}h {when}. Revise "
                                "el medidor otra vez.",
            [WORDING_BEFORE_FIRST] = "{machine} {hours}h no se guardo: la primera lectura fue "
                                     "{last}h {when}. Revise la fecha.",
            [WORDING_NO_SUCH_FIGURE] =
                "{machine} {hours}h no se guardo: su medidor no puede marcar eso. Revise otra vez.",
            [WORDING_SHOP_ASKED] = "{machine} {hours}h no se guardo: marcaba {last}h {when}. Ya le "
                                   "pregunté al taller.",
            [WORDING_SHOP_TOOK] = "{machine} {hours}h ya queda anotado: el taller lo confirma.",
            [WORDING_SHOP_LEFT] =
                "{machine} {hours}h: el taller no lo acepta. Revise otra vez o llame al taller.",
            [WORDING_ONE_AT_A_TIME] =
                "{machine} {hours}h no se guardo: primero responda a mi pregunta y luego repita.",
            [WORDING_NO_SUCH_MACHINE] = "No tengo ninguna {words}. Revise el nombre, por favor.",
            [WORDING_YOURS] = "Las suyas: {list}.",
            [WORDING_NO_SUCH_PLAN] = "{machine} no tiene el servicio {words}. Tiene: {list}.",
            [WORDING_NO_FLUID] =
                "{machine}: {title} no lleva aceite. Mande otra vez sin cantidad, por favor.",
            [WORDING_BAD_DATE] = "{machine} {hours}h no se guardo: la fecha no queda clara. Repita "
                                 "con ayer, un dia o una fecha.",
            [WORDING_FUTURE] = "{machine} {hours}h no se guardo: esa fecha no ha llegado.",
            [WORDING_BAD_DAYS] = "Mande de 1 a 60 dias: {machine} LUEGO 7 es una semana.",
            [WORDING_NEEDS_FIGURE] = "Por favor agregue las horas{example}.",
            [WORDING_NEEDS_TWO_FIGURES] = "Mande {machine} CAMBIO, las horas finales del medidor "
                                          "viejo y las primeras del nuevo.",
            [WORDING_WORD_DONE] = "HECHO",
            [WORDING_WORD_FIX] = "CORREGIR",
            [WORDING_NOT_UNDERSTOOD] = "Disculpe, no le entendi. Mande {machine} y sus "
                                       "horas{example}, o la falla que tiene. AYUDA dice el resto.",
            [WORDING_TEN_ONLY] = "Solo tomé los primeros diez.",
            [WORDING_OPTED_OUT] =
                "Recibimos su ALTO, por eso no se guardo. Mande INICIAR y luego repita.",
            [WORDING_NO_PICTURES] =
                "No puedo leer fotos. Por favor mande el nombre de la maquina y sus horas.",
            [WORDING_HELP_CREW] =
                "{shop}: mande maquina y horas{example}, o la falla que tiene. {machine}? dice "
                "como va. PENDIENTE, DESHACER, ALTO. Pare primero.",
            [WORDING_HELP_SHOP] =
                "{shop}: maquina, horas, HECHO, CORREGIR, CAMBIO, RESUELTA, RESERVA "
                "dia, ENTRA, SALE, GUARDAR, VUELVE, VENDIDA, LUEGO. ALTO.",
            [WORDING_STOPPED] = "{shop}: ya no le mandamos mensajes. Sus lecturas se guardan "
                                "igual. Mande INICIAR para recibirlos otra vez.",
            [WORDING_STARTED] = "{shop}: ya recibe mensajes otra vez. Mande {machine} y sus "
                                "horas{example}. ALTO los quita.",
            [WORDING_TELL_HEAD] = "{shop}:",
            [WORDING_TELL_COMING] =
                "{machine}{site} pronto le toca {title} a {due}h, faltan {left}h, por el {day}.",
            [WORDING_TELL_COMING_HOURS] =
                "{machine}{site} pronto le toca {title} a {due}h, faltan {left}h.",
            [WORDING_TELL_COMING_CALENDAR] =
                "{machine}{site} pronto le toca {title}, antes del {day}.",
            [WORDING_TELL_DUE] =
                "{machine}{site} ya le toca {title}: a las {due}h, marca {hours}h.",
            [WORDING_TELL_DUE_CALENDAR] =
                "{machine}{site} ya le toca {title}: para el {day}, marca {hours}h.",
            [WORDING_TELL_OVERDUE] = "{machine}{site} ATRASADA {left}h: {title}, marca {hours}h.",
            [WORDING_TELL_OVERDUE_CALENDAR] =
                "{machine}{site} ATRASADA desde el {day}: {title}, marca {hours}h.",
            [WORDING_TELL_NO_RECORD] = "{machine}{site} marca {hours}h, sin registro de {title}. "
                                       "¿Cuando fue? Mande {machine} HECHO {plan} y horas.",
            [WORDING_TELL_SUGGESTED] = "Taller libre el {day}.",
            [WORDING_TELL_UNBROUGHT] = "{machine} tenia cita para el {day} y no ha llegado. Mande "
                                       "{machine} RESERVA y otro dia, o SALE para quitarla.",
            [WORDING_TELL_ESCALATED] = "Con {count} dias o mas de atraso y sin cita.",
            [WORDING_TELL_GONE] = "{machine} esta de baja, pero {person} escribe: {words}. Si ya "
                                  "esta de vuelta, mande {machine} VUELVE.",
            [WORDING_TELL_BACK_AT_WORK] = "{machine} estaba parada por la temporada y vuelve a "
                                          "trabajar: {hours}h de {person}.",
            [WORDING_TELL_TAKEN_BACK] = "{person} anula: {words}",
            [WORDING_TELL_REMARK] = "{machine}{site}, {person}: {words}.",
            [WORDING_TELL_TROUBLE] = "{machine}{site} FALLA: {words} ({person}).",
            [WORDING_TELL_TROUBLE_UNNAMED] = "FALLA, sin nombre de maquina: {words} ({person}).",
            [WORDING_TELL_DANGER] = "{machine}{site} PELIGRO: {words} ({person}).",
            [WORDING_TELL_DANGER_UNNAMED] = "PELIGRO: {words} ({person}).",
            [WORDING_TELL_WORDS_MORE] = "Y otros {count} de {person}.",
            [WORDING_TELL_LEVEL_NO] = "{machine}: {person} dice NO a la pregunta por el nivel de "
                                      "aceite.",
            [WORDING_TELL_LEVEL_WORDS] = "{machine}, sobre el nivel de aceite: {words} ({person}).",
            [WORDING_TELL_SILENT] =
                "{machine}: sin lectura desde el {day}, ya le pregunté a {person}.",
            [WORDING_TELL_WANTED] = "{machine}: sin lectura desde el {day}, pregunté a {person}. "
                                    "Unas {last}h ya; {title} a {due}h.",
            [WORDING_TELL_UNCHECKED] =
                "{machine}: nivel de aceite sin confirmar después de {title}.",
            [WORDING_TELL_MORE] = "Y otros {count}: mande PENDIENTE.",
            [WORDING_TELL_KIT] = "Tenga listo: {list}.",
            [WORDING_CHASE_READING] = "{machine}: sin lectura desde el {day}. Por favor mande "
                                      "{machine} y sus horas{example}.",
            [WORDING_CHASE_LEVEL] = "{machine}: antes de arrancar revise el nivel de aceite en "
                                    "frio: en la marca, no arriba. Responda SI al terminar.",
            [WORDING_CREW_DUE] = "{machine}: ya le toca {title}.",
            [WORDING_CREW_OVERDUE] = "{machine}: {title} esta atrasado.",
            [WORDING_CREW_BOOKED] =
                "{machine} tiene cita en el taller el {day}. Llévela ese dia, por favor.",
            [WORDING_CREW_UNBOOKED] = "{machine}: queda anulada la cita en el taller.",
            [WORDING_SUMMARY] = "{shop}: todo funciona. Desde el resumen anterior: {count} "
                                "mensajes; toca {count_due}, pronto {count_coming}.",
            [WORDING_SUMMARY_STRANGERS] = "Mensajes de desconocidos, sin respuesta: {count}.",
            [WORDING_SUMMARY_SET_ASIDE] =
                "Mensajes que no se pudieron leer, vea la lista de mensajes: {count}.",
            [WORDING_SUMMARY_TROUBLE] = "Pendiente: {machine} {words} ({person}).",
        },
};
