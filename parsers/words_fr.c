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
    {WORD_DUE, 0,
     "liste|quest-ce qui est du|quest ce qui est du|a faire|quoi "
     "faire|echeance|echeances|entretiens dus"},
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
     "mais|ca|cela|ceci|celle ci|dernier|le dernier|la derniere|encore|maintenant|mon dernier "
     "texto|"
     "mon dernier message|mes machines|les machines|tondeuses|cette semaine|ce que jai envoye|moi"},

    /* around a machine and its figure */
    {WORD_LINK, 0,
     "avait|marquait|affichait|indiquait|etait a|etait rendu a|etait rendue a|est a|est rendu "
     "a|est rendue a|rendu a|rendue a|est maintenant a|indique|affiche|montre|"
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
    {WORD_OLD, 0, "ancien|vieux|ancien compteur|vieux compteur|dernier|etait|cetait|avant"},
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
    {WORD_HALF, 50, "et demi|et demie|demi|demie"},
    {WORD_HALF, 25, "et quart|et un quart"},
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
    {WORD_DAY, -2, "apres demain|apres-demain"},
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
    {WORD_OF, 0, "des|du"},
    {WORD_BEFORE_DAY, 0, "le|du|en date du|en date de|pour le|depuis le"},
    {WORD_AT, 0, "vers|aux environs de"},
    {WORD_NEXT, 0, "prochain|le prochain|la prochaine|dici|dici le|avant le"},
};

/* What is spoken of. A phrase that says of itself what is missing ("ne demarre pas") is firm. */
static const struct word_row topics[] = {
    /* trouble */
    {TOPIC_TROUBLE, 0,
     "hors service|hors "
     "dusage|casse|cassee|cassees|casser|brise|brisee|brises|brisees|bris|petee|petees|fendu|"
     "fendue|"
     "fissure|fissuree|plie|pliee|tordu|tordue|arrache|arrachee|tombe|tombee|decroche|decrochee|"
     "lache|lachent|devisse|devissee|desserre|desserree|usee|usees|usure|perdu|perdue|manque|"
     "manquante|manquant|"
     "endommage|endommagee|defectueux|defectueuse|abime|abimee|lousse"},
    {TOPIC_TROUBLE, 0,
     "panne|en panne|panne dessence|panne seche|morte|est mort|coince|coincee|bloque|bloquee|"
     "enlise|enlisee|embourbe|embourbee|prise dans|creve|crevee|creves|crevaison|a plat|degonfle|"
     "degonflee|pneu mou|pneus mous|pneu bas|surchauffe|chauffe|chauffe trop|manque dhuile|"
     "huile basse|niveau bas|batterie faible|vole|volee|sest fait voler|etouffe|cale"},
    {TOPIC_TROUBLE, 0,
     "bruit|bruits|bruit bizarre|cogne|cognement|cliquette|claque|grince|grincement|siffle|"
     "vibre|vibration|vibrations|tremble|patine|saute|voyant|voyant allume|temoin allume|"
     "lumiere allumee|code derreur|alarme|probleme|problemes|coupe mal|coupe croche|tire a gauche|"
     "tire a droite|demarre mal|tourne mal|roule mal|a besoin de reparation"},
    {TOPIC_TROUBLE | TOPIC_FIRM, 0,
     "ne demarre pas|ne demarre plus|demarre pas|demarre plus|ne part pas|ne part plus|part pas|"
     "part plus|ne veut pas demarrer|ne veut plus demarrer|veut pas demarrer|veut plus demarrer|"
     "veut pas partir|veut plus partir|ne veut pas partir|refuse de demarrer|ne fonctionne pas|"
     "ne fonctionne plus|fonctionne pas|fonctionne plus|ne marche pas|ne marche plus|marche pas|"
     "marche plus|navance pas|navance plus|avance pas|avance plus|ne recule pas|ne recule plus"},
    {TOPIC_TROUBLE | TOPIC_FIRM, 0,
     "ne tourne pas|ne tourne plus|tourne pas rond|ne coupe pas|ne coupe plus|coupe plus|"
     "ne leve pas|ne leve plus|leve plus|ne descend pas|ne descend plus|ne charge pas|"
     "ne charge plus|ne repond pas|ne repond plus|plus de pression|pas de pression|plus dhuile|"
     "pas dhuile|pas de force|plus de force|manque de force|a lache|vient de lacher|"
     "sest arretee toute seule|sest eteinte|sest eteint|ne bouge plus|bouge plus"},
    {TOPIC_TROUBLE | TOPIC_ESCAPES, 0,
     "fuite|fuites|fuit|fuient|coule|coulent|degoutte|degouline|suinte|perd|perd de lhuile|"
     "perd son huile|renverse de lhuile|pisse"},
    {TOPIC_TROUBLE | TOPIC_DANGER | TOPIC_FIRM, 0,
     "ne freine pas|ne freine plus|freine pas|freine plus|plus de freins|plus de frein|"
     "pas de freins|pas de frein|na plus de freins|na pas de freins|sans freins|sans frein|"
     "ne sarrete pas|ne sarrete plus|sarrete pas|sarrete plus|narrete pas|narrete plus|"
     "ne veut pas sarreter|ne veut plus sarreter|veut pas arreter|veut plus arreter|"
     "part toute seule|est partie toute seule|avance toute seule|roule toute seule"},
    {TOPIC_TROUBLE | TOPIC_DANGER, 0,
     "feu|en feu|prend feu|pris feu|a pris feu|prend en feu|incendie|flamme|flammes|brule|"
     "sent le brule|odeur de brule|fumee|boucane|fume|explose|explosion|renverse|renversee|"
     "sest renversee|sest renverse|capote|capotee|culbute|sur le cote|blesse|blessee|blesses|"
     "blessure|accident|ambulance|urgence|du sang|saigne|hopital|inconscient|inconsciente|"
     "est dessous|sous la machine|sous la tondeuse|coince dessous|coincee "
     "dessous|ecrase|ecrasee|etincelles|sest coupe|bras casse|jambe cassee|"
     "appelle le 911|appelez le 911|appeler le 911"},
    {TOPIC_FUEL, 0, "essence|lessence|dessence|carburant|diesel|gaz"},
    {TOPIC_ESCAPES, 0, "ca sent|sent le|sent la|sent lessence|odeur|odeurs|une odeur|ca pue"},
    {TOPIC_BRAKES, 0, "frein|freins|les freins|le frein"},
    {TOPIC_FAILS, 0,
     "lachent|ont lache|lache|marchent pas|marchent plus|ne marchent pas|ne marchent plus|"
     "repondent plus|ne repondent plus|finis|sont finis|morts"},
    {TOPIC_NEGATES, 0,
     "personne nest|personne na|pas|pas de|aucun|aucune|sans|plus de|plus aucun|plus aucune|jamais "
     "de|na pas de|na "
     "plus de|"
     "il ny a pas de|il ny a plus de|ya pas de|y a pas de|y a plus de|ni"},
    {TOPIC_PLAIN, 0,
     "pas de probleme|sans probleme|aucun probleme|pas de souci|feu vert|feu rouge|pompier|"
     "pompiers|temps mort|point mort|angle mort|il fait chaud|rien de casse|rien de brise"},
    {TOPIC_PLAIN, 0, "en service|a vendre"},
    {TOPIC_SOLVED, 0, "regle|reglee|resolu|resolue"},

    /* where a machine is */
    {TOPIC_BOOK, 0,
     "reserver|reservee|reservez|rendez vous|rendez-vous|rdv|booker|bookee|ceduler|cedulee"},
    {TOPIC_BOOK, BOOK_DROPPED,
     "rdv annule|rendez vous annule|rendez-vous annule|reservation annulee|annuler le rdv|"
     "annuler la reservation|annulez la reservation|annule la reservation"},
    {TOPIC_IN, 0,
     "entre|entree|rentre|rentree|a latelier|en atelier|entre a latelier|entree a latelier|"
     "arrivee a latelier|est a latelier|entrent|rentrent|entrees|rentrees|sont a latelier|"
     "vient dentrer|vient de rentrer|vient darriver"},
    {TOPIC_COMES, 0,
     "vient|viennent|viendra|viendront|arrive|arrivent|arrivera|entrera|rentrera|va entrer|"
     "va rentrer|vient a latelier|va a latelier|ira a latelier|passe a latelier|"
     "passera a latelier|sera a latelier|seront a latelier|je lamene|on lamene"},
    {TOPIC_OUT, 0,
     "sort|sorti|sortie|sort de latelier|sorti de latelier|sortie de latelier|hors de latelier|"
     "repartie|reparti|sortent|sortis|sorties|vient de sortir|vient de repartir"},
    {TOPIC_GONE | TOPIC_FIRM, 0,
     "vendu|vendue|on la vendue|ferraille|a la ferraille|mise a la ferraille|au rebut|"
     "mise au rebut|mis au rebut|vendus|vendues"},
    {TOPIC_PARK, 0, "remiser|remise|remisee|remisees|entreposer|entreposee|entreposees"},
    {TOPIC_BACK, 0,
     "retour|de retour|retour au travail|reprend|reprend le travail|reprennent|"
     "remise en service"},
    {TOPIC_ASIDE, 0, "a ete|sont|deja|maintenant|on a|juste|de nouveau|encore|est"},
    {TOPIC_AHEAD, 0, "dans"},

    /* second thoughts */
    {TOPIC_RETRACTS, 0,
     "oups|je me suis trompe|je me suis trompee|jme suis trompe|me suis trompe|mauvaise machine|"
     "mauvais chiffre|mauvais numero|oublie ca|oubliez ca|cest faux|cest pas bon|pas bon|"
     "ignore ca|ignorez ca|erreur|mon erreur|incorrecte|pas la bonne machine"},
    {TOPIC_SORRY, 0,
     "desole|desolee|pardon|excuse|excusez|excuse moi|excusez moi|scuse|je veux dire|"
     "je voulais dire|jveux dire|jvoulais dire|non attends|attends|attendez|plutot|en fait|"
     "cest plutot|cetait plutot"},
    {TOPIC_RATHER, 0, "pas|au lieu de|et pas|pas la|pas le|et non|et non la"},

    /* readings told in words */
    {TOPIC_SAME, 0,
     "comme hier|pareil|pareil comme hier|pareil quhier|meme chose|meme chose quhier|"
     "meme chose que hier|la meme chose|meme lecture|memes heures|les memes heures|inchange|"
     "inchangee|pas change|identique|comme avant|idem|sans changement"},
    {TOPIC_SAME, 1,
     "na pas tourne|pas tourne|na pas servi|pas servi|na pas travaille|pas travaille|"
     "pas utilisee|pas utilise|na pas ete utilisee|na pas bouge|pas bouge|na pas roule|"
     "pas roule|pas sortie|nest pas sortie|arretee toute la journee"},
    {TOPIC_BEGINS, 0, "debut|au debut|commence a|commence|debut de journee|debute a"},
    {TOPIC_ENDS, 0, "fin|a la fin|finit|fini|finit a|fini a|termine|termine a"},
    {TOPIC_WORKED, 0,
     "travaille|travaillees|jai travaille|on a travaille|avons travaille|jai fait|on a fait|jai "
     "tondu|"
     "on a tondu|tondu|jai roule|on a roule|roule pendant|travaille pendant"},
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
    {TOPIC_NUMBER, 17, "dix-sept|dix sept"},
    {TOPIC_NUMBER, 18, "dix-huit|dix huit"},
    {TOPIC_NUMBER, 19, "dix-neuf|dix neuf"},
    {TOPIC_NUMBER, 20, "vingt"},
    {TOPIC_NUMBER, 30, "trente"},
    {TOPIC_NUMBER, 40, "quarante"},
    {TOPIC_NUMBER, 50, "cinquante"},
    {TOPIC_NUMBER, 60, "soixante"},
    {TOPIC_NUMBER, 80, "quatre-vingt|quatre-vingts|quatre vingt|quatre vingts"},
    {TOPIC_NUMBER, 21, "vingt-et-un|vingt et un|vingt-et-une|vingt et une"},
    {TOPIC_NUMBER, 22, "vingt-deux|vingt deux"},
    {TOPIC_NUMBER, 23, "vingt-trois|vingt trois"},
    {TOPIC_NUMBER, 24, "vingt-quatre|vingt quatre"},
    {TOPIC_NUMBER, 25, "vingt-cinq|vingt cinq"},
    {TOPIC_NUMBER, 26, "vingt-six|vingt six"},
    {TOPIC_NUMBER, 27, "vingt-sept|vingt sept"},
    {TOPIC_NUMBER, 28, "vingt-huit|vingt huit"},
    {TOPIC_NUMBER, 29, "vingt-neuf|vingt neuf"},
    {TOPIC_NUMBER, 31, "trente-et-un|trente et un|trente-et-une|trente et une"},
    {TOPIC_NUMBER, 32, "trente-deux|trente deux"},
    {TOPIC_NUMBER, 33, "trente-trois|trente trois"},
    {TOPIC_NUMBER, 34, "trente-quatre|trente quatre"},
    {TOPIC_NUMBER, 35, "trente-cinq|trente cinq"},
    {TOPIC_NUMBER, 36, "trente-six|trente six"},
    {TOPIC_NUMBER, 37, "trente-sept|trente sept"},
    {TOPIC_NUMBER, 38, "trente-huit|trente huit"},
    {TOPIC_NUMBER, 39, "trente-neuf|trente neuf"},
    {TOPIC_NUMBER, 41, "quarante-et-un|quarante et un|quarante-et-une|quarante et une"},
    {TOPIC_NUMBER, 42, "quarante-deux|quarante deux"},
    {TOPIC_NUMBER, 43, "quarante-trois|quarante trois"},
    {TOPIC_NUMBER, 44, "quarante-quatre|quarante quatre"},
    {TOPIC_NUMBER, 45, "quarante-cinq|quarante cinq"},
    {TOPIC_NUMBER, 46, "quarante-six|quarante six"},
    {TOPIC_NUMBER, 47, "quarante-sept|quarante sept"},
    {TOPIC_NUMBER, 48, "quarante-huit|quarante huit"},
    {TOPIC_NUMBER, 49, "quarante-neuf|quarante neuf"},
    {TOPIC_NUMBER, 51, "cinquante-et-un|cinquante et un|cinquante-et-une|cinquante et une"},
    {TOPIC_NUMBER, 52, "cinquante-deux|cinquante deux"},
    {TOPIC_NUMBER, 53, "cinquante-trois|cinquante trois"},
    {TOPIC_NUMBER, 54, "cinquante-quatre|cinquante quatre"},
    {TOPIC_NUMBER, 55, "cinquante-cinq|cinquante cinq"},
    {TOPIC_NUMBER, 56, "cinquante-six|cinquante six"},
    {TOPIC_NUMBER, 57, "cinquante-sept|cinquante sept"},
    {TOPIC_NUMBER, 58, "cinquante-huit|cinquante huit"},
    {TOPIC_NUMBER, 59, "cinquante-neuf|cinquante neuf"},
    {TOPIC_NUMBER, 61, "soixante-et-un|soixante et un|soixante-et-une|soixante et une"},
    {TOPIC_NUMBER, 62, "soixante-deux|soixante deux"},
    {TOPIC_NUMBER, 63, "soixante-trois|soixante trois"},
    {TOPIC_NUMBER, 64, "soixante-quatre|soixante quatre"},
    {TOPIC_NUMBER, 65, "soixante-cinq|soixante cinq"},
    {TOPIC_NUMBER, 66, "soixante-six|soixante six"},
    {TOPIC_NUMBER, 67, "soixante-sept|soixante sept"},
    {TOPIC_NUMBER, 68, "soixante-huit|soixante huit"},
    {TOPIC_NUMBER, 69, "soixante-neuf|soixante neuf"},
    {TOPIC_NUMBER, 70, "soixante-dix|soixante dix|septante"},
    {TOPIC_NUMBER, 71, "soixante-et-onze|soixante et onze"},
    {TOPIC_NUMBER, 72, "soixante-douze|soixante douze"},
    {TOPIC_NUMBER, 73, "soixante-treize|soixante treize"},
    {TOPIC_NUMBER, 74, "soixante-quatorze|soixante quatorze"},
    {TOPIC_NUMBER, 75, "soixante-quinze|soixante quinze"},
    {TOPIC_NUMBER, 76, "soixante-seize|soixante seize"},
    {TOPIC_NUMBER, 77, "soixante-dix-sept|soixante dix sept"},
    {TOPIC_NUMBER, 78, "soixante-dix-huit|soixante dix huit"},
    {TOPIC_NUMBER, 79, "soixante-dix-neuf|soixante dix neuf"},
    {TOPIC_NUMBER, 81, "quatre-vingt-un|quatre vingt un"},
    {TOPIC_NUMBER, 82, "quatre-vingt-deux|quatre vingt deux"},
    {TOPIC_NUMBER, 83, "quatre-vingt-trois|quatre vingt trois"},
    {TOPIC_NUMBER, 84, "quatre-vingt-quatre|quatre vingt quatre"},
    {TOPIC_NUMBER, 85, "quatre-vingt-cinq|quatre vingt cinq"},
    {TOPIC_NUMBER, 86, "quatre-vingt-six|quatre vingt six"},
    {TOPIC_NUMBER, 87, "quatre-vingt-sept|quatre vingt sept"},
    {TOPIC_NUMBER, 88, "quatre-vingt-huit|quatre vingt huit"},
    {TOPIC_NUMBER, 89, "quatre-vingt-neuf|quatre vingt neuf"},
    {TOPIC_NUMBER, 90, "quatre-vingt-dix|quatre vingt dix|nonante"},
    {TOPIC_NUMBER, 91, "quatre-vingt-onze|quatre vingt onze"},
    {TOPIC_NUMBER, 92, "quatre-vingt-douze|quatre vingt douze"},
    {TOPIC_NUMBER, 93, "quatre-vingt-treize|quatre vingt treize"},
    {TOPIC_NUMBER, 94, "quatre-vingt-quatorze|quatre vingt quatorze"},
    {TOPIC_NUMBER, 95, "quatre-vingt-quinze|quatre vingt quinze"},
    {TOPIC_NUMBER, 96, "quatre-vingt-seize|quatre vingt seize"},
    {TOPIC_NUMBER, 97, "quatre-vingt-dix-sept|quatre vingt dix sept"},
    {TOPIC_NUMBER, 98, "quatre-vingt-dix-huit|quatre vingt dix huit"},
    {TOPIC_NUMBER, 99, "quatre-vingt-dix-neuf|quatre vingt dix neuf"},
    {TOPIC_HUNDRED, 0, "cent|cents"},
    {TOPIC_THOUSAND, 0, "mille"},
    {TOPIC_POINT, 0, "virgule"},

    /* places */
    {TOPIC_STREET, 0, "rue|chemin|boulevard|avenue|rang|montee|autoroute|allee|impasse"},
    {TOPIC_STREET_TOO, 0, "parc|cours|colline"},
    {TOPIC_COMPASS, 0, "nord|sud|ouest"},
    {TOPIC_PLACE, 0, "au|sur|chez|pres de|pres du"},

    /* services */
    {TOPIC_UPKEEP, 0,
     "entretien|entretiens|lentretien|vidange|changement dhuile|changement de filtres|maintenance|"
     "inspection|mise au point|visite"},
    {TOPIC_SERVICED, 0,
     "fait|faite|entretien fait|entretien termine|vidange faite|jai change|on a change|"
     "avons change|changee|remplacee|jai remplace|on a remplace|terminee|jai fait|on a fait|"
     "huile neuve|filtres neufs|filtre neuf|huile changee|changement dhuile fait"},
    {TOPIC_BOTH, 0, "les deux|tous les deux|toutes les deux"},
    {TOPIC_ALL, 0, "tout|tous|toutes|tous les entretiens"},
    {TOPIC_SIDE, 1, "gauche|cote gauche"},
    {TOPIC_SIDE, 2, "droite|droit|cote droit"},
    {TOPIC_SIDE, 3, "reservoir"},

    /* answers */
    {TOPIC_INTRODUCES, 0, "cest|ici|moi cest|je suis|de la part de"},
    {TOPIC_CHECKED, 0,
     "verifie|verifiee|jai verifie|on a verifie|cest verifie|niveau ok|niveau bon|niveau correct|"
     "le niveau est bon|au repere|cest au repere|niveau verifie|huile ok|huile verifiee|au niveau"},
    {TOPIC_LEVEL, 0, "niveau|le niveau|huile|lhuile|niveau dhuile|le niveau dhuile|repere"},
    {TOPIC_NEW_METER, 0,
     "nouveau compteur|compteur neuf|nouvel horometre|horometre neuf|compteur remplace|"
     "compteur a ete remplace|compteur a ete change|on a change le compteur|jai change le compteur|"
     "a un nouveau compteur|avec un nouveau compteur|nouveau compteur indique"},
    {TOPIC_SPELLED, 0, "oui"},
};

const struct word_table words_fr = {rows, sizeof rows / sizeof rows[0], topics,
                                    sizeof topics / sizeof topics[0]};
