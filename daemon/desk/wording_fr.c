/* SPDX-License-Identifier: MIT
 * wording_fr: the sentences in French, as a crew from Quebec or France texts; a machine is feminine,
 * the shop is "l'atelier". Words that need a circumflex or a cedilla are avoided, or go without in
 * capitals: the default alphabet of GSM has none but the capital one (TS 23.038 6.2.1). */
#include "daemon/desk/wording.h"

const struct wording wording_fr = {
    .language = "fr",
    .date = "D M",
    .date_year = "D M Y",
    .today_12 = "aujourd'hui à H h N",
    .today_24 = "aujourd'hui à H h N",
    .on = "le",
    .months = {"janv", "févr", "mars", "avr", "mai", "juin", "juil", "aout", "sept", "oct", "nov",
               "déc"},
    .sentences =
        {
            [WORDING_NOTED] = "{machine} {hours}h noté.",
            [WORDING_NOTED_ON] = "{machine} {hours}h noté pour le {day}.",
            [WORDING_ALREADY] = "{machine} {hours}h est déjà noté.",
            [WORDING_SOFT] = "Cela fait {count}h par jour. Si c'est faux, textez ANNULER.",
            [WORDING_BACK_AT_WORK] = "Elle reprend le travail.",
            [WORDING_RECHECKED] = "Merci: niveau d'huile de {machine} vérifié, noté.",
            [WORDING_SHOP_RECORDS] = "C'est l'atelier qui note les entretiens.",
            [WORDING_DONE_FORM] = "Pour noter un entretien, textez {machine} FAIT {plan} {hours}.",
            [WORDING_FORM] = "Textez {machine} et ses heures, svp{example}.",
            [WORDING_LIKE] = ", par exemple {words} {last}h",
            [WORDING_FINE] = "{title}: prochain à {due}h, reste {left}h, vers le {day}.",
            [WORDING_FINE_HOURS] = "{title}: prochain à {due}h, reste {left}h.",
            [WORDING_FINE_CALENDAR] = "{title}: prochain d'ici le {day}, ou à {due}h.",
            [WORDING_COMING] = "{title}: à venir à {due}h, reste {left}h, vers le {day}.",
            [WORDING_COMING_HOURS] = "{title}: à venir à {due}h, reste {left}h.",
            [WORDING_COMING_CALENDAR] = "{title}: à venir d'ici le {day}.",
            [WORDING_DUE] = "{title}: à faire maintenant (à {due}h).",
            [WORDING_DUE_CALENDAR] = "{title}: à faire maintenant (le {day}).",
            [WORDING_OVERDUE] = "{title}: en retard de {left}h.",
            [WORDING_OVERDUE_CALENDAR] = "{title}: en retard depuis le {day}.",
            [WORDING_NO_RECORD] = "{title}: rien au dossier, j'ai demandé à l'atelier.",
            [WORDING_NO_RECORD_SHOP] =
                "{title}: rien au dossier. Textez {machine} FAIT {plan} et ses heures.",
            [WORDING_BRING] = "Amenez-la à l'atelier, svp.",
            [WORDING_BRING_ON] = "Amenez-la le {day}, svp.",
            [WORDING_ALSO_DUE] = "Aussi à faire: {list}.",
            [WORDING_STANDS_AT] = "{machine} {hours}h le {day}.",
            [WORDING_LAID_UP] = "{machine} est remisée pour la saison.",
            [WORDING_IN_SHOP_SINCE] = "A l'atelier depuis le {day}.",
            [WORDING_BOOKED_FOR] = "Réservée pour le {day}.",
            [WORDING_UNREAD] =
                "{machine}: pas encore de lecture. Textez {machine} et ses heures, svp.",
            [WORDING_SERVICE] = "{machine} {hours}h: {title}{list}{when}, entretien noté.",
            [WORDING_SERVICE_ALREADY] = "{machine} {hours}h: {title}{list}{when} est déjà noté.",
            [WORDING_NEXT] = "Prochain à {due}h, reste {left}h, vers le {day}.",
            [WORDING_NEXT_HOURS] = "Prochain à {due}h, reste {left}h.",
            [WORDING_NEXT_CALENDAR] = "Prochain d'ici le {day}, ou à {due}h.",
            [WORDING_CORRECTED] = "{machine} {hours}h noté au lieu de {last}h.",
            [WORDING_CORRECTED_FORCED] = "{machine} {hours}h noté au lieu de {last}h. C'est un "
                                         "grand saut: pour le retirer, textez ANNULER.",
            [WORDING_CORRECTED_MACHINE] = "{machine} {hours}h noté; {last}h de {other} est retiré.",
            [WORDING_NOTHING_TO_CORRECT] =
                "{machine} n'a pas de lecture à corriger. Textez {machine} et ses heures.",
            [WORDING_SWAPPED] = "{machine}: nouveau compteur noté. Ancien {last}h, nouveau "
                                "{hours}h; ses heures continuent.",
            [WORDING_ROLLED_OVER] =
                "{machine} {hours}h noté: le compteur a fait le tour après {last}h.",
            [WORDING_LATER] = "{machine}: pas de rappel avant le {day}.",
            [WORDING_NOTHING_DUE] = "{machine}: rien à faire pour l'instant.",
            [WORDING_PARKED] =
                "{machine} remisée pour la saison: pas de rappel avant RETOUR ou une lecture.",
            [WORDING_PARKED_ALREADY] = "{machine} est déjà remisée pour la saison.",
            [WORDING_BACK] = "{machine} reprend le travail.",
            [WORDING_BACK_ALREADY] = "{machine} travaille déjà.",
            [WORDING_BOOKED] = "{machine} est réservée pour le {day}. Pas de rappel d'ici là.",
            [WORDING_BOOKED_INSTEAD] =
                "{machine} est réservée pour le {day} au lieu du {when}. Pas de rappel d'ici là.",
            [WORDING_BOOKED_ALREADY] = "{machine} est déjà réservée pour le {day}.",
            [WORDING_BOOK_DAY] =
                "{machine}: quel jour? Textez {machine} RESERVER et un jour ou une date à venir.",
            [WORDING_BOOK_PAST] = "{machine} pas réservée: le {day} est passé. Textez {machine} "
                                  "RESERVER et un jour à venir.",
            [WORDING_BOOK_LEFT] =
                "OK, {machine} n'est pas réservée. Textez {machine} RESERVER et un autre jour.",
            [WORDING_BOOK_STAYS] =
                "{machine} reste réservée pour le {day}. Textez {machine} SORTIE "
                "pour l'annuler, ou RESERVER et un autre jour.",
            [WORDING_BOOK_IN_SHOP] = "{machine} est à l'atelier depuis le {day}. Textez {machine} "
                                     "SORTIE au départ, puis réservez.",
            [WORDING_IN] = "{machine} est à l'atelier. Textez {machine} SORTIE à son départ.",
            [WORDING_IN_ALREADY] = "{machine} est déjà à l'atelier, depuis le {day}.",
            [WORDING_OUT] = "{machine} sort de l'atelier et reprend le travail.",
            [WORDING_OUT_BOOKING] = "{machine}: la réservation du {day} est annulée.",
            [WORDING_OUT_ALREADY] = "{machine} n'était pas à l'atelier, rien ne change. Pour "
                                    "réserver: {machine} RESERVER et un jour.",
            [WORDING_WHERE_FUTURE] =
                "{machine}: ce jour n'est pas encore venu. Textez-le alors, svp.",
            [WORDING_IN_FUTURE] = "{machine}: ce jour n'est pas encore venu. Pour réserver: "
                                  "{machine} RESERVER et le jour.",
            [WORDING_WHERE_DAY] =
                "{machine}: je ne comprends pas le jour. Renvoyez avec un jour ou une date, svp.",
            [WORDING_GONE] = "{machine} est notée partie: plus rien à faire, son dossier reste. "
                             "{machine} RETOUR la ramène.",
            [WORDING_GONE_ALREADY] = "{machine} est déjà notée partie, depuis le {day}.",
            [WORDING_GONE_SHOP] = "Pas noté: {machine} est partie depuis le {day}. Si elle est là, "
                                  "textez d'abord {machine} RETOUR.",
            [WORDING_GONE_CREW] = "{machine} est partie le {day}: pas noté. L'atelier en est "
                                  "averti, au cas où vous l'auriez encore.",
            [WORDING_GONE_CONFIG] = "{machine} est partie selon la liste de l'atelier, le {day}. "
                                    "L'administrateur doit d'abord la retirer.",
            [WORDING_GONE_STANDS] = "{machine} est partie depuis le {day}. Son dossier reste.",
            [WORDING_RENAMED] = "{other} est maintenant {machine}.",
            [WORDING_SHOP_ONLY] = "{machine}: c'est à l'atelier de noter cela. Vous pouvez texter "
                                  "ses heures{example}.",
            [WORDING_TAKEN_BACK] = "Annulé: {words}",
            [WORDING_TROUBLE_TOLD] = "{machine}: {words}. Noté, j'avise l'atelier.",
            [WORDING_TROUBLE_LATER] =
                "{machine}: {words}. Noté, j'avise l'atelier dès l'ouverture.",
            [WORDING_TROUBLE_KEPT] = "{machine}: {words}. Noté, ouvert jusqu'à REGLE.",
            [WORDING_TROUBLE_ALREADY] = "{machine}: {words}. Déjà noté, l'atelier le sait.",
            [WORDING_TROUBLE_UNHEARD] = "{machine}: {words}. Noté, mais personne à l'atelier ne "
                                        "lit les textos. Appelez, svp.",
            [WORDING_TROUBLE_UNNAMED] = "{words}. Noté, j'avise l'atelier.",
            [WORDING_DANGER] = "Stoppez {machine} et éloignez tout le monde. En cas de danger, "
                               "appelez d'abord les secours. J'avise l'atelier.",
            [WORDING_DANGER_UNNAMED] = "Stoppez la machine et éloignez tout le monde. En cas de "
                                       "danger, appelez d'abord les secours. J'avise l'atelier.",
            [WORDING_DANGER_UNHEARD] =
                "Stoppez la machine, éloignez tout le monde, appelez d'abord les secours. Personne "
                "à l'atelier ne lit les textos: appelez.",
            [WORDING_DANGER_WORDS] = "Noté: {words}.",
            [WORDING_REMARK] = "{machine}: merci, noté. L'atelier le lira.",
            [WORDING_REMARK_KEPT] = "{machine}: noté comme remarque, rien d'autre ne change.",
            [WORDING_REMARK_PASSED] = "Votre note va à l'atelier.",
            [WORDING_SOLVED] = "{machine}: noté comme réglé.",
            [WORDING_SOLVED_ALREADY] = "{machine}: rien n'était ouvert.",
            [WORDING_LEVEL_OPEN] = "Merci. Le niveau d'huile de {machine} reste à vérifier: "
                                   "répondez OUI une fois fait.",
            [WORDING_LEVEL_NO] =
                "{machine}: compris, j'avise l'atelier que le niveau d'huile n'est pas bon.",
            [WORDING_LEVEL_WORDS] = "{machine}: j'avise l'atelier. Le niveau d'huile reste à "
                                    "vérifier: répondez OUI une fois fait.",
            [WORDING_UNDO_OR_SHOP] =
                "Si la dernière était fausse, textez ANNULER, ou demandez à l'atelier.",
            [WORDING_ASKED_BEFORE] =
                "{machine} {hours}h pas gardé: vous avez dit NON. Si la dernière était fausse, "
                "textez ANNULER, ou demandez à l'atelier.",
            [WORDING_LAST_SAVED] = "Je n'ai pas compris. J'ai bien votre texto d'avant: {words}.",
            [WORDING_LAST_UNSAVED] =
                "Je n'ai pas compris. Votre texto d'avant n'est pas gardé non plus: {words}.",
            [WORDING_STOP_UNDO] = "Pour retirer votre dernière lecture, textez ANNULER.",
            [WORDING_SERVICE_COMPLETED] =
                "{machine} {hours}h: {title}{list}{when}, dossier complété.",
            [WORDING_SERVICE_DAY_WANTED] =
                "C'était quel jour? Textez {machine} FAIT {words}{hours} et la date.",
            [WORDING_NOTHING_TO_TAKE_BACK] =
                "Rien à annuler: ANNULER ne reprend que le dernier texto, de moins de 24 heures.",
            [WORDING_DUE_ITEM_DUE] = "{machine} {plan} à faire",
            [WORDING_DUE_ITEM_OVERDUE] = "{machine} {plan} en retard",
            [WORDING_DUE_ITEM_COMING] = "{machine} {plan} dans {left}h",
            [WORDING_DUE_ITEM_CALENDAR] = "{machine} {plan} avant le {day}",
            [WORDING_DUE_ITEM_NO_RECORD] = "{machine} {plan} sans dossier",
            [WORDING_DUE_ITEM_WANTED] = "{machine} sans lecture depuis le {day}, environ {last}h",
            [WORDING_DUE_ITEM_BOOKED] = "(réservée {day})",
            [WORDING_DUE_ITEM_IN_SHOP] = "(à l'atelier)",
            [WORDING_DUE_MORE] = "et {count} autres",
            [WORDING_DUE_NOTHING] = "Rien à faire pour l'instant.",
            [WORDING_DUE_SHORT] =
                "La mémoire me manque, pas de liste pour l'instant. Renvoyez LISTE plus tard, svp.",
            [WORDING_ASK_SLIP] = "{machine} {hours}h? C'était {last}h {when}. Vouliez-vous dire "
                                 "{offer}h? OUI ou NON.",
            [WORDING_ASK_SLIP_UNREAD] =
                "{machine} {hours}h? Vouliez-vous dire {offer}h? OUI ou NON.",
            [WORDING_ASK_OTHER_MACHINE] = "{machine} {hours}h? C'était {last}h {when}. "
                                          "Vouliez-vous dire {other} {hours}h? OUI ou NON.",
            [WORDING_ASK_LAST_WRONG] = "{machine} {hours}h? C'était {last}h {when}. {last}h était "
                                       "une erreur? OUI met {hours}h à la place, ou NON.",
            [WORDING_ASK_ROLL_OVER] = "{machine} {hours}h? C'était {last}h {when}. Le compteur "
                                      "a-t-il fait le tour? OUI ou NON.",
            [WORDING_ASK_SWAP] = "{person} envoie {machine} {hours}h; c'était {last}h le {day}. "
                                 "Est-ce un nouveau compteur? OUI ou NON.",
            [WORDING_ASK_FORCE] = "{person} renvoie {machine} {hours}h; c'était {last}h le {day}. "
                                  "Noter {hours}h? OUI ou NON.",
            [WORDING_ASK_SURE] = "{machine} {hours}h: est-ce exact? OUI ou NON.",
            [WORDING_ASK_TWO_FIGURES] = "{machine}: {hours}h ou {offer}h? Textez le bon chiffre.",
            [WORDING_ASK_REPLACE] = "{machine} {hours}h au lieu de {last}h? OUI ou NON.",
            [WORDING_ASK_METER] = "{machine} {hours}h? C'était {last}h {when}. Est-ce vraiment "
                                  "{hours}h? Répondez OUI, ou textez ce que le compteur indique.",
            [WORDING_ASK_SERVICE] = "{machine} {hours}h: {title}, est-ce fait? OUI ou NON.",
            [WORDING_ASK_WHICH_TROUBLE] = "{words}: noté. Quelle machine? Textez son nom.",
            [WORDING_ASK_WHICH_MACHINE] = "{words}: quelle machine, {list}? Textez son nom.",
            [WORDING_ASK_PLAN] = "{machine} {hours}h: quel entretien, {list}? Textez son nom.",
            [WORDING_ASK_QUANTITY] =
                "{machine} {hours}h, {title}: est-ce bien {count} {unit}? OUI ou NON.",
            [WORDING_ASK_PAST_SERVICE] =
                "{machine} {hours}h: {title}, fait alors, avant {last}h? OUI ou NON.",
            [WORDING_ASK_BOOK] = "{machine}: l'atelier est fermé le {day}, ouvert le {when}. "
                                 "Réserver le {day} malgré tout? OUI ou NON.",
            [WORDING_ASK_COMING] =
                "{machine} n'est pas encore là. Je réserve pour le {day}? OUI ou NON.",
            [WORDING_REPLACES_QUESTION] = "Oubliez ma question d'avant.",
            [WORDING_NOT_CHANGED] =
                "OK, {machine} reste comme avant. Textez les bonnes heures quand vous pourrez.",
            [WORDING_NO_QUESTION] = "Merci, mais je n'attends pas de réponse. Pour une lecture, "
                                    "textez {machine} et ses heures{example}.",
            [WORDING_SETTLED_ALREADY] = "{machine}: c'est déjà réglé.",
            [WORDING_TOO_HIGH] = "{machine} {hours}h pas gardé: c'était {last}h {when}, au plus "
                                 "{most}h. Regardez encore, svp.",
            [WORDING_TOO_LOW] = "{machine} {hours}h pas gardé: c'était {last}h {when}. Regardez "
                                "encore le compteur, svp.",
            [WORDING_BEFORE_FIRST] = "{machine} {hours}h pas gardé: le premier relevé est plus "
                                     "récent, {last}h {when}. Vérifiez la date.",
            [WORDING_NO_SUCH_FIGURE] = "{machine} {hours}h pas gardé: son compteur ne peut pas "
                                       "montrer cela. Regardez encore, svp.",
            [WORDING_SHOP_ASKED] =
                "{machine} {hours}h pas gardé: c'était {last}h {when}. J'ai demandé à l'atelier.",
            [WORDING_SHOP_TOOK] = "{machine} {hours}h est noté: l'atelier l'a confirmé.",
            [WORDING_SHOP_LEFT] = "{machine} {hours}h: l'atelier ne l'a pas accepté. Regardez "
                                  "encore, ou appelez l'atelier.",
            [WORDING_ONE_AT_A_TIME] =
                "{machine} {hours}h pas gardé: répondez d'abord à ma question, puis renvoyez.",
            [WORDING_NO_SUCH_MACHINE] = "Je n'ai pas de {words} ici. Vérifiez le nom, svp.",
            [WORDING_YOURS] = "Vos machines: {list}.",
            [WORDING_NO_SUCH_PLAN] = "{machine} n'a pas l'entretien {words}. Elle a: {list}.",
            [WORDING_NO_FLUID] =
                "{machine}: {title} ne prend pas d'huile. Renvoyez sans quantité, svp.",
            [WORDING_BAD_DATE] = "{machine} {hours}h pas gardé: le jour n'est pas clair. Renvoyez "
                                 "avec hier, un jour ou une date.",
            [WORDING_FUTURE] = "{machine} {hours}h pas gardé: ce moment est encore à venir.",
            [WORDING_BAD_DAYS] = "Textez de 1 à 60 jours: {machine} REPORTER 7 fait une semaine.",
            [WORDING_NEEDS_FIGURE] = "Ajoutez les heures, svp{example}.",
            [WORDING_NEEDS_TWO_FIGURES] = "Textez {machine} CHANGER, puis les heures finales de "
                                          "l'ancien compteur et celles du nouveau.",
            [WORDING_WORD_DONE] = "FAIT",
            [WORDING_WORD_FIX] = "CORRIGER",
            [WORDING_NOT_UNDERSTOOD] = "Désolé, je n'ai pas compris. Textez {machine} et ses "
                                       "heures{example}, ou ce qui ne va pas. AIDE en dit plus.",
            [WORDING_TEN_ONLY] = "J'ai pris seulement les dix premiers.",
            [WORDING_OPTED_OUT] = "Vous aviez envoyé ARRET, je n'ai donc rien gardé. Textez "
                                  "REPRENDRE, puis renvoyez.",
            [WORDING_NO_PICTURES] =
                "Je ne peux pas lire les photos. Textez le nom de la machine et ses heures, svp.",
            [WORDING_HELP_CREW] = "{shop}: textez machine et heures{example}, ou ce qui ne va pas. "
                                  "{machine}? dit son état. LISTE, ANNULER, ARRET. Garez d'abord.",
            [WORDING_HELP_SHOP] =
                "{shop}: machine, heures, FAIT, CORRIGER, CHANGER, RESOLU, RESERVER, "
                "ENTRE, SORTIE, REMISER, RETOUR, VENDUE, REPORTER. ARRET.",
            [WORDING_STOPPED] = "{shop}: OK, plus de textos. Vos lectures sont toujours gardées. "
                                "Textez REPRENDRE pour en recevoir encore.",
            [WORDING_STARTED] = "{shop}: vous recevez encore nos textos. Textez {machine} et ses "
                                "heures{example}. ARRET les coupe.",
            [WORDING_TELL_HEAD] = "{shop}:",
            [WORDING_TELL_COMING] =
                "{machine}{site} à venir: {title} à {due}h, reste {left}h, vers le {day}.",
            [WORDING_TELL_COMING_HOURS] =
                "{machine}{site} à venir: {title} à {due}h, reste {left}h.",
            [WORDING_TELL_COMING_CALENDAR] = "{machine}{site} à venir: {title} d'ici le {day}.",
            [WORDING_TELL_DUE] = "{machine}{site} à faire: {title} à {due}h, compteur à {hours}h.",
            [WORDING_TELL_DUE_CALENDAR] =
                "{machine}{site} à faire: {title} d'ici le {day}, compteur à {hours}h.",
            [WORDING_TELL_OVERDUE] =
                "{machine}{site} RETARD de {left}h: {title}, compteur à {hours}h.",
            [WORDING_TELL_OVERDUE_CALENDAR] =
                "{machine}{site} RETARD depuis le {day}: {title}, compteur à {hours}h.",
            [WORDING_TELL_NO_RECORD] = "{machine}{site} à {hours}h, {title}: rien au dossier. "
                                       "C'était quand? Textez {machine} FAIT {plan} et heures.",
            [WORDING_TELL_SUGGESTED] = "Atelier libre le {day}.",
            [WORDING_TELL_UNBROUGHT] = "{machine} était réservée pour le {day} et n'est pas venue. "
                                       "Textez {machine} RESERVER et un jour, ou SORTIE.",
            [WORDING_TELL_ESCALATED] = "En retard de {count} jours ou plus et pas réservé.",
            [WORDING_TELL_GONE] = "{machine} est notée partie, mais {person} écrit: {words}. Si "
                                  "elle est là, textez {machine} RETOUR.",
            [WORDING_TELL_BACK_AT_WORK] = "{machine} était remisée pour la saison et reprend le "
                                          "travail: {hours}h de {person}.",
            [WORDING_TELL_TAKEN_BACK] = "{person} annule: {words}",
            [WORDING_TELL_REMARK] = "{machine}{site}, {person}: {words}.",
            [WORDING_TELL_TROUBLE] = "{machine}{site} PANNE: {words} ({person}).",
            [WORDING_TELL_TROUBLE_UNNAMED] = "PANNE, sans nom de machine: {words} ({person}).",
            [WORDING_TELL_DANGER] = "{machine}{site} DANGER: {words} ({person}).",
            [WORDING_TELL_DANGER_UNNAMED] = "DANGER: {words} ({person}).",
            [WORDING_TELL_WORDS_MORE] = "Et {count} autres de {person}.",
            [WORDING_TELL_LEVEL_NO] =
                "{machine}: {person} dit NON à la question du niveau d'huile.",
            [WORDING_TELL_LEVEL_WORDS] = "{machine}, niveau d'huile: {words} ({person}).",
            [WORDING_TELL_SILENT] =
                "{machine}: pas de lecture depuis le {day}, j'ai demandé à {person}.",
            [WORDING_TELL_WANTED] = "{machine}: pas de lecture depuis le {day}, {person} averti. "
                                    "Sans doute {last}h; {title} à {due}h.",
            [WORDING_TELL_UNCHECKED] = "{machine}: niveau d'huile pas confirmé après {title}.",
            [WORDING_TELL_MORE] = "Et {count} autres: textez LISTE.",
            [WORDING_TELL_KIT] = "Ayez en main: {list}.",
            [WORDING_CHASE_READING] = "{machine}: pas de lecture depuis le {day}. Textez {machine} "
                                      "et ses heures, svp{example}.",
            [WORDING_CHASE_LEVEL] = "{machine}: avant de démarrer, vérifiez le niveau d'huile à "
                                    "froid: au repère, pas au-dessus. Répondez OUI une fois fait.",
            [WORDING_CREW_DUE] = "{machine}: {title} à faire.",
            [WORDING_CREW_OVERDUE] = "{machine}: {title} en retard.",
            [WORDING_CREW_BOOKED] =
                "{machine} est réservée à l'atelier pour le {day}. Amenez-la ce jour-là, svp.",
            [WORDING_CREW_UNBOOKED] = "{machine}: la réservation à l'atelier est annulée.",
            [WORDING_SUMMARY] = "{shop}: tout fonctionne. Depuis le dernier bilan: {count} textos; "
                                "à faire {count_due}, à venir {count_coming}.",
            [WORDING_SUMMARY_STRANGERS] = "Textos de numéros inconnus, sans réponse: {count}.",
            [WORDING_SUMMARY_SET_ASIDE] = "Textos illisibles, voir la liste des textos: {count}.",
            [WORDING_SUMMARY_TROUBLE] = "Ouvert: {machine} {words} ({person}).",
        },
};
