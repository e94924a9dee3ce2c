/* SPDX-License-Identifier: MIT
 * sheet_labels: see the header.
 *
 * The usual cautions are common practice, no source; that a load on a jack must be secured at once, and
 * that nobody works under one held by jacks alone: 29 CFR 1910.244(a)(2), WAC 296-307-22509. Used oil:
 * 40 CFR 279. */
#include "daemon/counter/sheet_labels.h"

static const struct sheet_labels tables[WORDS_LANGUAGE_COUNT] = {
    [WORDS_LANGUAGE_en] =
        {.language = "en",
         .job_sheet = "Job sheet",
         .machine = "Machine",
         .due = "Due",
         .meter = "Meter",
         .last = "Last service",
         .time = "Time",
         .booked = "Booked for",
         .at = "at",
         .by = "by",
         .whichever = "whichever comes first",
         .unknown = "not known: no service on record",
         .on = "on",
         .never_read = "not read yet",
         .never_done = "none on record",
         .about = "about",
         .reported = "REPORTED, AND STILL OPEN",
         .remarks = "REMARKED SINCE THE LAST SERVICE",
         .cautions = "CAUTIONS",
         .kit = "TO HAVE READY",
         .in_all = "fluid in all:",
         .steps = "STEPS",
         .no_steps = "as the maker's manual says",
         .write_down = "WRITE DOWN",
         .date = "Date",
         .done_by = "Done by",
         .initials = "Initials",
         .remark = "Remarks",
         .left = "left",
         .right = "right",
         .side = "side",
         .changed = "changed",
         .level = "Level after the run, cold, at the mark and not above",
         .topped = "topped up by",
         .text = "WHEN IT IS DONE, TEXT",
         .text_solved = "AND WHEN WHAT WAS REPORTED IS PUT RIGHT",
         .done = "DONE",
         .solved = "SOLVED",
         .usual_cautions =
             {"The maker's manual and local rules come first, before anything on this sheet.",
              "Firm level ground, brake set, engine off, key out, wheels that stay down chocked.",
              "Rated stands under the machine. Never under one that is held by a jack alone.",
              "Let the oil cool: hot oil burns. Gloves and glasses on.",
              "Hands off belts, blades and fan until everything stands still. Never feel for a "
              "leak "
              "by hand.",
              "Used oil and filters to a collection point, in a closed and marked container."}},
    [WORDS_LANGUAGE_es] =
        {.language = "es",
         .job_sheet = "Hoja de trabajo",
         .machine = "Máquina",
         .due = "Toca",
         .meter = "Horómetro",
         .last = "Último servicio",
         .time = "Tiempo",
         .booked = "Citada para",
         .at = "a las",
         .by = "el",
         .whichever = "lo que llegue primero",
         .unknown = "no se sabe: no hay servicio anotado",
         .on = "el",
         .never_read = "sin lectura",
         .never_done = "ninguno anotado",
         .about = "unos",
         .reported = "AVISADO Y TODAVÍA ABIERTO",
         .remarks = "COMENTADO DESDE EL ÚLTIMO SERVICIO",
         .cautions = "CUIDADO",
         .kit = "TENER A MANO",
         .in_all = "líquido en total:",
         .steps = "PASOS",
         .no_steps = "como dice el manual del fabricante",
         .write_down = "ANOTAR",
         .date = "Fecha",
         .done_by = "Hecho por",
         .initials = "Iniciales",
         .remark = "Notas",
         .left = "izquierda",
         .right = "derecha",
         .side = "lado",
         .changed = "cambiado",
         .level = "Nivel después de andar, en frío, en la marca y no más",
         .topped = "añadido",
         .text = "CUANDO ESTÉ HECHO, MANDE POR TEXTO",
         .text_solved = "Y CUANDO LO AVISADO ESTÉ ARREGLADO",
         .done = "HECHO",
         .solved = "RESUELTO",
         .usual_cautions =
             {"El manual del fabricante y las reglas locales valen antes que esta hoja.",
              "Suelo firme y plano, freno puesto, motor apagado, llave fuera, ruedas que quedan "
              "abajo "
              "calzadas.",
              "Soportes con capacidad bajo la máquina. Nunca debajo de una que solo sostiene un "
              "gato.",
              "Deje enfriar el aceite: caliente quema. Guantes y lentes puestos.",
              "Manos fuera de bandas, cuchillas y ventilador hasta que todo esté quieto. Nunca "
              "busque "
              "una fuga con la mano.",
              "Aceite y filtros usados a un punto de acopio, en recipiente cerrado y marcado."}},
    [WORDS_LANGUAGE_fr] =
        {.language = "fr",
         .job_sheet = "Fiche de travail",
         .machine = "Machine",
         .due = "Prévu",
         .meter = "Compteur",
         .last = "Dernier entretien",
         .time = "Temps",
         .booked = "Réservée pour le",
         .at = "à",
         .by = "le",
         .whichever = "au premier atteint",
         .unknown = "inconnu : aucun entretien au dossier",
         .on = "le",
         .never_read = "pas encore relevé",
         .never_done = "aucun au dossier",
         .about = "environ",
         .reported = "SIGNALÉ ET TOUJOURS OUVERT",
         .remarks = "REMARQUÉ DEPUIS LE DERNIER ENTRETIEN",
         .cautions = "PRUDENCE",
         .kit = "À AVOIR SOUS LA MAIN",
         .in_all = "liquide en tout :",
         .steps = "ÉTAPES",
         .no_steps = "comme le dit le manuel du fabricant",
         .write_down = "À NOTER",
         .date = "Date",
         .done_by = "Fait par",
         .initials = "Initiales",
         .remark = "Remarques",
         .left = "gauche",
         .right = "droite",
         .side = "côté",
         .changed = "changé",
         .level = "Niveau après l'essai, à froid, au repère et pas au-dessus",
         .topped = "complété de",
         .text = "QUAND C'EST FAIT, TEXTEZ",
         .text_solved = "ET QUAND CE QUI ÉTAIT SIGNALÉ EST RÉPARÉ",
         .done = "FAIT",
         .solved = "RESOLU",
         .usual_cautions =
             {"Le manuel du fabricant et les règles locales passent avant cette fiche.",
              "Sol ferme et plat, frein serré, moteur arrêté, clé retirée, roues restées au sol "
              "calées.",
              "Chandelles à la bonne charge sous la machine. Jamais sous une machine tenue par un "
              "cric "
              "seul.",
              "Laisser refroidir l'huile : chaude, elle brûle. Gants et lunettes.",
              "Pas de mains aux courroies, lames et ventilateur tant que tout n'est pas arrêté. Ne "
              "jamais chercher une fuite à la main.",
              "Huile et filtres usés à un point de collecte, dans un récipient fermé et marqué."}},
};

const struct sheet_labels *sheet_labels_of(enum words_language language)
{
    return &tables[language];
}
