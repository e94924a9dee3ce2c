/* SPDX-License-Identifier: MIT
 * words_en: the words of English. A word may stand in several rows.
 *
 * Left out on purpose, because they say something else about a mower: "parked" (for the night),
 * "fixed" and "finished service" (a repair), "ready". */
#include "parsers/words_tables.h"

static const struct word_row rows[] = {
    /* the grammar */
    {WORD_DONE, 0, "done|serviced|service done"},
    {WORD_FIX, 0, "fix|correction"},
    {WORD_SWAP, 0, "swap|swapped|meter swap|meter swapped"},
    {WORD_LATER, 0, "later|snooze|postpone|remind me later|remind later"},
    {WORD_PARK, 0, "park|lay up|laid up"},
    {WORD_BACK, 0, "back|back at work|back to work|back in service|back in use"},
    {WORD_DUE, 0, "due"},
    {WORD_UNDO, 0, "undo|take it back|take that back"},
    {WORD_YES, 0, "yes"},
    {WORD_NO, 0, "no"},
    {WORD_HELP, 0, "help|info"},
    {WORD_STOP, 0,
     "stop|stopall|stop all|unsubscribe|quit|revoke|opt out|opt-out|optout|"
     "no more texts|no more messages"},
    {WORD_STOP | WORD_CANCEL, 0, "cancel|end"},
    {WORD_START, 0, "start|unstop|resume"},

    /* answers and manners */
    {WORD_ASSENT, 0,
     "y|ya|yep|yeah|yup|yea|yah|ok|okay|okey|k|kk|correct|right|thats right|thats it|"
     "thats correct|exactly|sure|sure thing|sure is|affirmative|yessir|you bet|"
     "that is right|that is correct|it is"},
    {WORD_DISSENT, 0, "nope|nah|nop|negative|no way|not really"},
    {WORD_COURTESY, 0,
     "hi|hello|hey|hiya|howdy|yo|morning|mornin|good morning|good afternoon|"
     "good evening|good night|goodnight|evening|gm|cheers|boss|chief|sir|maam|mate|guys|"
     "folks|team|all|everyone|everybody|buddy|man|bro|friend|bye|goodbye|see you|see ya|"
     "see you tomorrow|cya|later guys"},
    {WORD_COURTESY, 0,
     "no problem|no prob|no probs|no worries|np|youre welcome|your welcome|welcome|yw|"
     "cool|great|perfect|nice|awesome|good|good job|got it|gotcha|roger|roger that|copy|"
     "copy that|10-4|understood|noted|will do|lol|haha|all good|sounds good|fair enough"},
    {WORD_COURTESY, 0,
     "have a good one|have a good day|have a nice day|have a good night|"
     "have a good weekend|have a great day|happy friday|happy monday|tgif|good "
     "weekend|enjoy|take care|fyi|re|fw|fwd|"
     "here|heres|here is|here you "
     "go|weekly|daily|report|log|recap|summary|regards|best|best regards|my bad"},
    {WORD_COURTESY | WORD_POLITE, 0,
     "please|pls|plz|plse|thanks|thank you|thank u|thankyou|thx|thnx|tks|ty|tia|"
     "thanks a lot|thanks so much|thank you so much|many thanks|thanks again|"
     "thanks in advance|much appreciated"},
    {WORD_COURTESY, 0,
     "liked an image|loved an image|laughed at an image|emphasized an image|"
     "disliked an image|questioned an image|liked a photo|loved a photo|liked a video|"
     "loved a video"},
    {WORD_REACTION, 1, "liked|loved|hearted"},
    {WORD_REACTION, 0, "reacted|reacted with"},
    {WORD_REACTION, 0,
     "laughed at|emphasized|emphasised|questioned|disliked|removed a like from|"
     "removed a heart from|removed a laugh from|removed a dislike from|"
     "removed an exclamation from|removed a question mark from|removed a reaction from"},
    {WORD_REACTION, 0, "removed a|removed an|removed"},
    {WORD_SIGNOFF, 0, "sent from|sent via|sent with|get outlook|typed on"},
    {WORD_TEXTS, 0,
     "texting|texts|text|text messages|text message|messages|message|messaging|msgs|msg|"
     "sending|send|me"},
    {WORD_FILLER, 0,
     "it|its|that|thats|this|these|those|them|one|last|last one|me|us|i|im|again|now|to|"
     "from|you|mine|need|what i sent|what i said|my last text|last text|the list|list|"
     "machines|machine|mowers|anything|is there|show|next|week|this week|this month"},

    /* around a machine and its figure */
    {WORD_LINK, 0,
     "at|reads|read|reading|readings|shows|showing|showed|show|now|says|say|said|has|had|"
     "got|on|with|w|currently|current|just|hit|reached|meter|hour meter|hourmeter|"
     "hr meter|clock|counter|gauge|dash|display|stands|stands at|up to|it|its|are"},
    {WORD_LINK, 0,
     "was|total|final|ended|ended at|ending|finished at|finished on|finished|closing|"
     "exactly|new reading|new|sits|sitting|sits at|sitting at|is now|is at|the meter|"
     "total hours|engine|run time|runtime|odometer|tach|logged|clocked"},
    {WORD_LINK | WORD_COPULA, 0, "is"},
    {WORD_ARTICLE, 0, "the|my|our|this|that|a|for|on"},
    {WORD_NOUN, 0,
     "mower|machine|unit|tractor|rider|mach|number|num|nr|equipment|mower number|"
     "machine number|unit number"},
    {WORD_JOIN, 0, "and|also|plus|then|and then|and also"},
    {WORD_UNTIL, 0, "for|for the|until|till"},
    {WORD_SERVICE, 0, "service|services|servicing|svc|maintenance|plan"},
    {WORD_STATUS, 0, "status|stat|state|standing|info"},
    {WORD_OLD, 0, "old|old meter|last|was"},
    {WORD_NEW, 0, "new|new meter|new one|first"},
    {WORD_ROUGHLY, 0,
     "approx|approximately|roughly|ish|or so|more or less|give or take|i think|i guess|"
     "i believe|or thereabouts|maybe|probably"},
    {WORD_ABOUT, 0,
     "about|around|approx|approximately|roughly|almost|nearly|close to|near|over|under|"
     "past|maybe|probably|i think|like|some|circa|a bit over|just over|just under|or so"},
    {WORD_INSTEAD, 0,
     "or|to|sorry|oops|whoops|ops|mean|meant|i mean|i meant|typo|correction|wait|"
     "actually|no|make that|make it|should be|should say|should read|rather|instead|from|"
     "now|was|previously|before|earlier|up from|i|it|its|thru|through|until|nope|vs"},
    {WORD_WRONG, 0,
     "wrong|incorrect|typo|mistake|ignore|ignore that|ignore it|ignore this|disregard|"
     "disregard that|my mistake|scratch that|not right|not correct|nvm|nevermind|"
     "never mind|forget it|forget that|not true|"
     "wrong one|wrong machine|wrong mower|wrong number|wrong reading|wrong text|"
     "wrong person"},

    /* no report */
    {WORD_ASKS, 0,
     "how|hows|what|whats|when|whens|where|wheres|which|who|whos|why|did|didnt|how many|"
     "how much|how is|what is|when is|where is|what about|how about|does anyone"},
    {WORD_ASKS_FIRST, 0, "is|are|was|were|does|do|can|has|have|isnt|arent|am|any|anyone|anybody"},
    {WORD_PLANS, 0,
     "if|unless|whether|will|ill|well|itll|would|could|should|shall|may|might|maybe|"
     "perhaps|probably|gonna|going to|remind|reminder|remember|until|till|til|before|"
     "after|once|by|need|needs|needed|want|wants|wanna|let|lets|let me know|in case"},
    {WORD_PLANS, 0,
     "plan|planning|planned|expect|expecting|expected|expects|tomorrow|soon|think|guess|"
     "suppose|supposed|estimate|estimated|estimating|hope|hoping|hopefully|wish|try|next|"
     "schedule|scheduled|due|as soon as|target|goal|limit|max|minimum|ought|must|"
     "have to|has to|gotta|call when|every"},
    {WORD_DENIES, 0,
     "not|dont|doesnt|isnt|wasnt|arent|wont|cant|cannot|couldnt|shouldnt|wouldnt|never|"
     "no|none|ignore|disregard|forget|scratch|cancel|stop|delete|remove|nevermind|"
     "never mind|wrong|neither|nor|without|except|instead|incorrect|undo|fix|swap|"
     "hasnt|havent|aint|werent"},

    /* units */
    {WORD_HOURS, 0, "h|hr|hrs|hour|hours|hs|hrz|hours total|total hours"},
    {WORD_QUARTS, 1000, "qt|qts|quart|quarts"},
    {WORD_QUARTS, 4000, "gal|gals|gallon|gallons"},
    {WORD_QUARTS, 500, "pt|pts|pint|pints"},
    {WORD_LITRES, 1000, "l|lt|lts|ltr|ltrs|liter|liters|litre|litres"},
    {WORD_LITRES, 1, "ml|mls|milliliters|millilitres"},
    {WORD_LITRES, 10, "cl"},
    {WORD_DAYS, 0, "d|day|days"},
    {WORD_WEEKS, 0, "w|wk|wks|week|weeks"},
    {WORD_MINUTES, 0, "m|min|mins|minute|minutes"},
    {WORD_MEASURE, 0,
     "psi|kg|kgs|kilo|kilos|lb|lbs|pound|pounds|ton|tons|km|kms|mile|miles|mph|kph|rpm|"
     "rpms|ft|feet|inch|inches|cm|mm|yd|yds|yards|acre|acres|percent|pct|dollars|dollar|"
     "bucks|usd|eur|euros|cents|degrees|degs|volts|volt|hp|oz|ounces|month|months|years|"
     "year|yr|yrs|seconds|secs|sec"},
    {WORD_HALF, 0, "half|a half|and a half|a quarter|and a quarter|point five"},
    {WORD_ORDINAL, 0, "st|nd|rd|th"},
    {WORD_STREET, 0, "street|st|ave|avenue|road|rd|blvd|boulevard|highway|hwy|parkway|pkwy"},

    /* when */
    {WORD_DAY, 0,
     "today|todays|this morning|this mornings|this afternoon|this evening|tonight|"
     "just now|end of today"},
    {WORD_DAY, 1,
     "yesterday|yesterdays|yest|yday|ystrday|last night|last nights|last evening|"
     "yesterday morning|yesterday afternoon|yesterday evening|yesterday night"},
    {WORD_DAY, 1, "a day ago"},
    {WORD_DAY, 7, "a week ago"},
    {WORD_DAY, 2, "day before yesterday|the day before yesterday"},
    {WORD_DAY, -1, "tomorrow|tomorrows|tmrw|tmw|tomoro|tomorrow morning"},
    {WORD_WEEKDAY, 0, "monday|mondays"},
    {WORD_WEEKDAY, 1, "tuesday|tuesdays"},
    {WORD_WEEKDAY, 2, "wednesday|wednesdays"},
    {WORD_WEEKDAY, 3, "thursday|thursdays"},
    {WORD_WEEKDAY, 4, "friday|fridays"},
    {WORD_WEEKDAY, 5, "saturday|saturdays"},
    {WORD_WEEKDAY, 6, "sunday|sundays"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 0, "mon"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 1, "tue|tues"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 2, "wed|weds"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 3, "thu|thur|thurs"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 4, "fri"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 5, "sat"},
    {WORD_WEEKDAY | WORD_WEEKDAY_SHORT, 6, "sun"},
    {WORD_MONTH, 1, "january|jan"},
    {WORD_MONTH, 2, "february|feb"},
    {WORD_MONTH, 3, "march|mar"},
    {WORD_MONTH, 4, "april|apr"},
    {WORD_MONTH, 5, "may"},
    {WORD_MONTH, 6, "june|jun"},
    {WORD_MONTH, 7, "july|jul"},
    {WORD_MONTH, 8, "august|aug"},
    {WORD_MONTH, 9, "september|sept|sep"},
    {WORD_MONTH, 10, "october|oct"},
    {WORD_MONTH, 11, "november|nov"},
    {WORD_MONTH, 12, "december|dec"},
    {WORD_DAYPART, 1, "morning|in the morning"},
    {WORD_DAYPART, 2, "afternoon|evening|night|in the afternoon|in the evening|at night"},
    {WORD_DAYPART, 0, "at noon|noon|early|late|lunch|at lunch|at close"},
    {WORD_DAYPART | WORD_LINK | WORD_COURTESY, 0,
     "eod|end of day|at end of day|close of day|end of shift|at the end of the day"},
    {WORD_CLOCK, 1, "am"},
    {WORD_CLOCK, 2, "pm"},
    {WORD_AGO, 0, "ago|back"},
    {WORD_BEFORE_DAY, 0,
     "on|as of|from|of|last|this|the|dated|date|for|as at|at end of|at the end of|end of"},
    {WORD_AT, 0, "at|around|at about|at around"},
    {WORD_NEXT, 0, "next|coming|this coming|by|until|till|before"},
    {WORD_OF, 0, "of"},
};

const struct word_table words_en = {rows, sizeof rows / sizeof rows[0]};
