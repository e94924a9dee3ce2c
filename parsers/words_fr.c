/* SPDX-License-Identifier: MIT
 * words_fr: the words of French, in Quebec as in France, without accents. Left out on purpose, because
 * they are words of another language too and say something else there: "ne" (north-east), "an",
 * "mes", "va", "use", "pete", "sent", "change", "place", and short weekdays but those of Spanish. */
#include "parsers/words_tables.h"

static const struct word_row rows[] = {
    /* the grammar */
    {WORD_DONE, 0, "fait|faite|entretien fait|entretien termine"},
    {WORD_FIX, 0, "corriger|corrige|corrigez"},
    {WORD_SWAP, 0, "changer|echanger|changement de compteur|compteur change"},
    {WORD_LATER, 0, "reporter|reporte|reportez|plus tard|rappeler plus tard"},
    {WORD_PARK, 0, "remiser|remise|remisee|entreposer|entreposee"},
    {WORD_BACK, 0,
     "retour|de retour|retour au travail|reprend|reprend le travail|remise en service"},
    {WORD_DUE, 0, "liste|a faire|quoi faire|echeance|echeances|entretiens dus"},
    {WORD_UNDO, 0,
     "annuler|annule|annulez|annule ca|annulez ca|defaire|efface ca|effacez ca|effacer|"
     "annule mon dernier message|annule mon dernier texto|oublie mon dernier message|"
     "oubliez mon dernier message|ignore mon dernier message|ignorez mon dernier message"},
    {WORD_YES, 0, "oui"},
    {WORD_NO, 0, "non"},
    {WORD_HELP, 0, "aide|aidez moi|aidez-moi|aide moi"},
    {WORD_STOP, 0,
     "arret|arreter|arretez|desabonner|desabonnement|plus de textos|plus de messages|"
     "arretez de menvoyer des textos|arretez de mecrire"},
    {WORD_STOP | WORD_CANCEL, 0, "terminer|resilier"},
    {WORD_START, 0, "reprendre|recommencer|reabonner|reactiver"},

    /* answers and manners */
    {WORD_ASSENT, 0,
     "oui|ouais|ouaip|mouais|exact|exactement|cest ca|cest bon|cest exact|cest bien ca|daccord|"
     "bien sur|absolument|tout a fait|affirmatif|oui monsieur|oui madame|en effet"},
    {WORD_DISSENT, 0, "nan|pas du tout|negatif|cest pas ca|ce nest pas ca|pas vraiment"},
    {WORD_COURTESY, 0,
     "bonjour|bonsoir|salut|allo|coucou|bon matin|bonne journee|bonne soiree|bonne nuit|"
     "bonne fin de semaine|bon weekend|bon week-end|a demain|a plus|a bientot|au revoir|"
     "patron|patronne|monsieur|madame|chef|tout le monde|les amis|lequipe|ca va"},
    {WORD_COURTESY, 0,
     "parfait|super|genial|excellent|bien recu|recu|compris|note|cest note|entendu|de rien|"
     "bienvenue|pas de probleme|pas de souci|aucun probleme|avec plaisir|bravo|voici|voila|"
     "tiens|tenez|bon|bien|tres bien|pas de quoi|sans souci"},
    {WORD_COURTESY | WORD_POLITE, 0,
     "svp|stp|sil vous plait|sil te plait|merci|merci beaucoup|merci bien|mille mercis|"
     "un gros merci|merci davance|mci"},
    {WORD_REACTION, 1, "a aime|a adore"},
    {WORD_REACTION, 0,
     "a ri de|a ri a|na pas aime|a mis en evidence|a insiste sur|a remis en question|a reagi a|"
     "a reagi avec|a pose une question sur"},
    {WORD_SIGNOFF, 0, "envoye de mon|envoye depuis|envoye a partir de|envoye avec"},
    {WORD_TEXTS, 0,
     "textos|texto|sms|menvoyer|envoyer|mecrire|de menvoyer|des textos|des messages|les textos|"
     "les messages"},
    {WORD_FILLER, 0,
     "ca|cela|ceci|celle ci|dernier|le dernier|la derniere|encore|maintenant|mon dernier texto|"
     "mon dernier message|mes machines|les machines|tondeuses|cette semaine|ce que jai envoye|moi"},

    /* around a machine and its figure */
    {WORD_LINK, 0,
     "est a|est rendu a|est rendue a|rendu a|rendue a|est maintenant a|indique|affiche|montre|"
     "marque|compteur|le compteur|le compteur indique|le compteur affiche|au compteur|horometre|"
     "lhorometre|lhorometre indique|maintenant|actuellement|lecture|arrive a|avec|est arrivee a"},
    {WORD_LINK, 0, "termine a|finit a|fini a|finie a|sest arretee a|totalise"},
    {WORD_LINK | WORD_COPULA, 0, "est"},
    {WORD_ARTICLE, 0, "le|les|mon|ma|notre|nos|cette|pour|pour la|pour le|sur la|sur le|du"},
    {WORD_NOUN, 0,
     "machine|la machine|tondeuse|la tondeuse|tracteur|le tracteur|tracteur a gazon|unite|lunite|"
     "numero|machine numero|tondeuse numero"},
    {WORD_JOIN, 0, "et|puis|et puis|et aussi|aussi"},
    {WORD_UNTIL, 0, "jusqua|jusquau|pour"},
    {WORD_SERVICE, 0, "entretien|entretiens|lentretien"},
    {WORD_STATUS, 0, "etat|statut|situation"},
    {WORD_OLD, 0, "ancien|vieux|ancien compteur|vieux compteur|dernier|etait|avant"},
    {WORD_NEW, 0, "nouveau|nouveau compteur|premier"},
    {WORD_ROUGHLY, 0,
     "environ|a peu pres|plus ou moins|je crois|je pense|peut etre|peut-etre|ou quelque chose"},
    {WORD_ABOUT, 0,
     "environ|presque|autour de|a peu pres|pres de|plus de|moins de|un peu plus de|peut etre|"
     "peut-etre|je crois|je pense|disons"},
    {WORD_INSTEAD, 0,
     "ou|oups|desole|desolee|pardon|je veux dire|je voulais dire|plutot|erreur|non|attends|"
     "attendez|en fait|pas|cetait|etait|avant|maintenant|au lieu de|cest|de"},
    {WORD_WRONG, 0,
     "faux|incorrecte|erreur|mauvaise machine|mauvais chiffre|mauvais numero|oublie ca|"
     "oubliez ca|ignore ca|ignorez ca|pas bon|cest pas bon|cest faux|je me suis trompe|"
     "je me suis trompee|pas la bonne"},

    /* no report */
    {WORD_ASKS, 0,
     "comment|quand|combien|quel|quelle|quels|quelles|qui|pourquoi|est ce que|est-ce que|"
     "quest ce que|ou est|ou sont|comment va|comment est|cest quand|avez vous|avez-vous|as tu|"
     "as-tu|combien de|a quelle heure"},
    {WORD_ASKS_FIRST, 0, "est ce|est-ce|peux tu|peux-tu|pouvez vous|pouvez-vous|quelquun|y a t il"},
    {WORD_PLANS, 0,
     "quand|jusqua|jusquau|apres|vais|allons|vont|sera|seront|serait|aura|pourrait|devrait|"
     "devrais|devra|doit|dois|faut|il faut|faudrait|rappelle|rappelez|rappel|demain|bientot|"
     "prochain|prochaine|prevu|prevoir|prevoit|jespere|jattends|je pense|je crois|veux|veut"},
    {WORD_PLANS, 0,
     "besoin|des que|aussitot|au cas|objectif|chaque|va etre|va arriver|va atteindre|avant de|"
     "avant que|peut etre|peut-etre|avisez|avise|dites moi|dis moi"},
    {WORD_DENIES, 0,
     "pas|jamais|aucun|aucune|sans|nest pas|nest plus|na pas|ignore|ignorez|oublie|oubliez|"
     "efface|effacez|annule|annulez|faux|mauvais|mauvaise"},

    /* units */
    {WORD_HOURS, 0, "heure|heures|hres|heures au total"},
    {WORD_QUARTS, 1000, "quart|quarts"},
    {WORD_LITRES, 1000, "litre|litres"},
    {WORD_DAYS, 0, "jour|jours|journee|journees"},
    {WORD_WEEKS, 0, "semaine|semaines"},
    {WORD_MEASURE, 0,
     "livre|livres|kilometre|kilometres|mille marin|pouce|pouces|pied|pieds|metre|metres|"
     "piastre|piastres|degres|mois|annee|annees|ans|pour cent|tonne|tonnes|secondes|hectares"},
    {WORD_HALF, 0, "et demi|et demie|demi|demie|et quart|et un quart"},
    {WORD_ORDINAL, 0, "eme|ieme"},
    {WORD_STREET, 0, "rue|chemin|rang"},

    /* when */
    {WORD_DAY, 0,
     "aujourdhui|ce matin|cet apres midi|cet apres-midi|ce soir|cette nuit|a linstant|"
     "tout a lheure"},
    {WORD_DAY, 1, "hier|hier soir|hier matin|hier apres midi|hier apres-midi|dhier|il y a un jour"},
    {WORD_DAY, 2, "avant hier|avant-hier"},
    {WORD_DAY, 7, "il y a une semaine"},
    {WORD_DAY, -1, "demain|demain matin|demain soir"},
    {WORD_WEEKDAY, 0, "lundi"},
    {WORD_WEEKDAY, 1, "mardi"},
    {WORD_WEEKDAY, 2, "mercredi"},
    {WORD_WEEKDAY, 3, "jeudi"},
    {WORD_WEEKDAY, 4, "vendredi"},
    {WORD_WEEKDAY, 5, "samedi"},
    {WORD_WEEKDAY, 6, "dimanche"},
    {WORD_MONTH, 1, "janvier|janv"},
    {WORD_MONTH, 2, "fevrier|fevr|fev"},
    {WORD_MONTH, 3, "mars"},
    {WORD_MONTH, 4, "avril|avr"},
    {WORD_MONTH, 5, "mai"},
    {WORD_MONTH, 6, "juin"},
    {WORD_MONTH, 7, "juillet|juil"},
    {WORD_MONTH, 8, "aout"},
    {WORD_MONTH, 9, "septembre"},
    {WORD_MONTH, 10, "octobre"},
    {WORD_MONTH, 11, "novembre"},
    {WORD_MONTH, 12, "decembre"},
    {WORD_DAYPART, 1, "matin|le matin|du matin|au matin|de bonne heure"},
    {WORD_DAYPART, 2,
     "soir|le soir|du soir|apres midi|apres-midi|lapres midi|lapres-midi|de lapres midi|"
     "de lapres-midi|en apres midi|en apres-midi"},
    {WORD_DAYPART, 0, "midi|a midi|ce midi"},
    {WORD_DAYPART | WORD_LINK | WORD_COURTESY, 0,
     "fin de journee|en fin de journee|a la fin de la journee|fin de quart"},
    {WORD_SINCE, 0, "il y a"},
    {WORD_BEFORE_DAY, 0, "le|du|en date du|en date de|pour le|depuis le"},
    {WORD_AT, 0, "vers|aux environs de"},
    {WORD_NEXT, 0, "prochain|le prochain|la prochaine|dici|dici le|avant le"},
};

static const struct word_row topics[] = {
    /* trouble */
    {TOPIC_TROUBLE, 0,
     "casse|cassee|casses|cassees|brise|brisee|rompu|rompue|lache|plie|pliee|tordu|tordue|fendu|"
     "fendue|fissure|perdu|perdue|desserre|desserree|use|usee|en panne|tombe en panne|panne|"
     "panne dessence|defectueux|defectueuse|abime|abimee|endommage|endommagee"},
    {TOPIC_TROUBLE, 0,
     "creve|crevee|crevaison|a plat|degonfle|degonflee|coince|coincee|bloque|bloquee|embourbe|"
     "embourbee|mort|morte|cale|surchauffe|chauffe trop|bruit|bruits|grince|cogne|vibre|vibration|"
     "voyant|voyant allume|alarme|probleme|problemes|vole|volee"},
    {TOPIC_TROUBLE | TOPIC_FIRM, 0,
     "ne demarre pas|ne demarre plus|demarre pas|ne marche pas|ne marche plus|marche pas|"
     "ne fonctionne pas|ne fonctionne plus|ne coupe pas|ne coupe plus|navance pas|navance plus|"
     "ne leve pas|ne leve plus|ne tourne pas rond|pas dhuile|plus dhuile"},
    {TOPIC_TROUBLE | TOPIC_ESCAPES, 0, "fuite|fuites|fuit|coule|goutte|perd|suinte"},
    {TOPIC_TROUBLE | TOPIC_DANGER | TOPIC_FIRM, 0,
     "ne freine pas|ne freine plus|plus de freins|pas de freins|sans freins|ne sarrete pas|"
     "ne sarrete plus"},
    {TOPIC_TROUBLE | TOPIC_DANGER, 0,
     "feu|en feu|incendie|flammes|fumee|brule|explose|explosion|renverse|renversee|sest renverse|"
     "sest renversee|retourne|retournee|blesse|blessee|blesses|sang|saigne|ambulance|accident|"
     "urgence|coince dessous"},
    {TOPIC_FUEL, 0, "essence|carburant|diesel|gaz|gazole"},
    {TOPIC_ESCAPES, 0, "sent|odeur|sent fort"},
    {TOPIC_BRAKES, 0, "frein|freins|les freins"},
    {TOPIC_FAILS, 0, "laches|foutus|morts|ne marchent pas|ne marchent plus"},
    {TOPIC_NEGATES, 0, "pas|pas de|plus|plus de|sans|aucun|aucune|jamais|ni"},
    {TOPIC_PLAIN, 0, "sans probleme|pas de probleme|aucun probleme|pompiers"},
    {TOPIC_SOLVED, 0, "resolu|resolue|regle|reglee"},

    /* second thoughts */
    {TOPIC_RETRACTS, 0,
     "oups|je me suis trompe|je me suis trompee|erreur|correction|mon erreur|cest faux|"
     "mais cest faux|incorrect"},
    {TOPIC_SORRY, 0, "pardon|desole|desolee|je veux dire|je voulais dire|plutot|non attends"},
    {TOPIC_RATHER, 0, "pas|et pas|au lieu de|pas la|pas le"},

    /* readings told in words */
    {TOPIC_SAME, 0, "comme hier|pareil|pareil quhier|meme chose|la meme chose|inchange"},
    {TOPIC_SAME, 1,
     "na pas tourne|pas tourne|na pas servi|pas servi|pas utilise|pas utilisee|na pas travaille"},
    {TOPIC_BEGINS, 0, "debut|depart|commence"},
    {TOPIC_ENDS, 0, "fin|arrivee|termine"},
    {TOPIC_WORKED, 0, "travaille|jai travaille|on a travaille"},
    {TOPIC_NUMBER, 0, "zero"},
    {TOPIC_NUMBER, 1, "un|une"},
    {TOPIC_NUMBER, 2, "deux"},
    {TOPIC_NUMBER, 3, "trois"},
    {TOPIC_NUMBER, 4, "quatre"},
    {TOPIC_NUMBER, 5, "cinq"},
    {TOPIC_NUMBER, 6, "six"},
    {TOPIC_NUMBER, 7, "sept"},
    {TOPIC_NUMBER, 8, "huit"},
    {TOPIC_NUMBER, 9, "neuf"},
    {TOPIC_NUMBER, 10, "dix"},
    {TOPIC_NUMBER, 11, "onze"},
    {TOPIC_NUMBER, 12, "douze"},
    {TOPIC_NUMBER, 13, "treize"},
    {TOPIC_NUMBER, 14, "quatorze"},
    {TOPIC_NUMBER, 15, "quinze"},
    {TOPIC_NUMBER, 16, "seize"},
    {TOPIC_NUMBER, 20, "vingt"},
    {TOPIC_NUMBER, 30, "trente"},
    {TOPIC_NUMBER, 40, "quarante"},
    {TOPIC_NUMBER, 50, "cinquante"},
    {TOPIC_NUMBER, 60, "soixante"},
    {TOPIC_HUNDRED, 0, "cent|cents"},
    {TOPIC_THOUSAND, 0, "mille"},
    {TOPIC_POINT, 0, "virgule"},

    /* where a figure is none */
    {TOPIC_STREET, 0, "rue|avenue|boulevard|chemin|allee|route"},

    {TOPIC_STREET_TOO, 0, "cours|place|cour"},
    {TOPIC_COMPASS, 0, "nord|sud|ouest"},
    {TOPIC_PLACE, 0, "a|au|sur"},

    /* services */
    {TOPIC_UPKEEP, 0, "entretien|vidange|revision"},
    {TOPIC_SERVICED, 0, "change|changee|entretenu|entretien fait|vidange faite"},
    {TOPIC_BOTH, 0, "les deux"},
    {TOPIC_ALL, 0, "tout|tous|toutes"},
    {TOPIC_SIDE, 1, "gauche"},
    {TOPIC_SIDE, 2, "droite|droit"},
    {TOPIC_SIDE, 3, "reservoir"},

    /* answers */
    {TOPIC_INTRODUCES, 0, "cest|ici|je suis|de la part de"},
    {TOPIC_CHECKED, 0, "verifie|verifiee|controle|controlee|niveau ok|niveau bon"},
    {TOPIC_LEVEL, 0, "niveau|le niveau|niveau dhuile"},
    {TOPIC_NEW_METER, 0, "compteur neuf|nouveau compteur"},
    {TOPIC_SPELLED, 0, "oui"},
};

const struct word_table words_fr = {rows, sizeof rows / sizeof rows[0], topics,
                                    sizeof topics / sizeof topics[0]};
