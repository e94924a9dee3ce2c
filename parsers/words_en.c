/* SPDX-License-Identifier: MIT
 * words_en: the words of English. A word may stand in several rows.
 *
 * Left out on purpose, because they say something else about a mower: "parked" (for the night),
 * "fixed" and "finished service" (a repair), "ready". */
#include "parsers/words_tables.h"

static const struct word_row rows[] = {
    /* the grammar */
    {WORD_DONE, 0, "done|serviced|service done|done at"},
    {WORD_FIX, 0, "fix|correction"},
    {WORD_SWAP, 0, "swap|swapped|meter swap|meter swapped"},
    {WORD_LATER, 0, "later|snooze|postpone|remind me later|remind later"},
    {WORD_DUE, 0, "due|whats coming up|what is coming up|what comes due|what needs service"},
    {WORD_UNDO, 0,
     "undo|take it back|take that back|undo that|undo it|undo last|undo my last|cancel that|"
     "cancel it|cancel my last|cancel last|delete that|delete it|delete my last|delete last|"
     "remove that|ignore my last text|ignore my last|ignore last text|ignore the last one|"
     "ignore last|disregard my last|disregard last|disregard that last one|erase that|"
     "scratch my last|forget my last text|forget my last|ignore that last one|"
     "cancel that last one|delete that last one|take back my last"},
    {WORD_UNDO | WORD_WRONG, 0,
     "scratch that|ignore that|ignore it|disregard that|forget that|ignore this|strike that"},
    {WORD_YES, 0, "yes|yse|yess|yesss|yes sir|yes maam"},
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
     "hi|hello|hey|heads up|hiya|howdy|yo|morning|mornin|good morning|good afternoon|"
     "good evening|good night|goodnight|evening|gm|cheers|boss|chief|sir|maam|mate|guys|"
     "folks|team|so|btw|by the "
     "way|anyway|all|everyone|everybody|buddy|man|bro|friend|bye|goodbye|see you|see ya|"
     "see you tomorrow|cya|later guys"},
    {WORD_COURTESY, 0,
     "no problem|no prob|no probs|no worries|np|youre welcome|your welcome|welcome|yw|"
     "never ran better|never better|cool|great|perfect|nice|awesome|good|fine|just fine|good "
     "job|got it|gotcha|roger|roger "
     "that|copy|"
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
     "it|its|that|thats|but|this|these|those|them|one|ones|last|last one|me|us|i|im|again|now|to|"
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
    {WORD_HALF, 50, "half|a half|and a half|and half"},
    {WORD_HALF, 25, "a quarter|and a quarter"},
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
    {WORD_DAY, -2, "day after tomorrow|the day after tomorrow"},
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

/* What is spoken of. A phrase that says of itself what is missing ("wont start") is firm. */
static const struct word_row topics[] = {
    /* trouble */
    {TOPIC_TROUBLE, 0,
     "broke|broken|breaks|breaking|brakes down|busted|bust|snapped|snaps|cracked|crack|cracks|"
     "cracking|bent|bend|warped|ripped|rip|torn|tore|shredded|frayed|worn out|worn|wore out|"
     "fell off|falling off|fallen off|came off|coming off|come off|popped off|flew off|"
     "came loose|loose|loosened|slipping|slips|slipped|threw|thrown|punctured|puncture|"
     "punctures|blew|blown|blew out|blowout|burst|popped|damaged|damage|dented|dent|missing|stolen|"
     "lost|gone through|ran over|hit a|hit the|clipped a"},
    {TOPIC_TROUBLE, 0,
     "flat|flats|flat tire|flat tyre|flat tires|flat tyres|low tire|low tires|tire low|tires low|"
     "tire is low|tires are low|brake is soft|brakes are soft|brake soft|brakes soft|soft "
     "brake|soft brakes|spongy|brake is weak|brakes are weak|weak brake|weak brakes|losing "
     "air|losing power|losing pressure|losing oil|"
     "losing fluid|burning oil|using oil|low on oil|oil low|oil is low|low oil|low on fluid|"
     "low on coolant|low pressure|out of fuel|out of gas|out of diesel|low on fuel|low on gas|"
     "low on diesel|ran out of gas|ran out of fuel|out of oil|out of coolant"},
    {TOPIC_TROUBLE, 0,
     "stuck|jammed|jams|jam|jamming|seized|seizing|locked up|locks up|locking up|froze up|"
     "frozen|bound up|binding|bogged|bogging|bogs down|dead|died|dies|dying|quit|quits|"
     "quitting|stalls|stalled|stalling|stall|shut off|shuts off|shutting off|cuts out|"
     "cut out|cutting out|shut down|misfire|misfires|misfiring|backfire|backfires|"
     "backfiring|surging|surges|sputtering|sputters|stutters|stuttering|hesitates|failed|"
     "fails|failing|failure|faulty|bad battery|down|broke down|broken down|out of order|out of "
     "service|out of action|"
     "out of commission|"
     "acting up|acting funny|acting weird|messed up|screwed up|trashed|toast|shot|kaput"},
    {TOPIC_TROUBLE, 0,
     "noise|noises|noisy|racket|grinding|grinds|squeal|squeals|squealing|squeak|squeaks|"
     "squeaking|squeaky|knocking|knocks|knock|clunk|clunks|clunking|clanking|rattle|rattles|"
     "rattling|whining|whine|whines|vibrates|vibrating|vibration|shakes|shaking|shimmies|"
     "wobbles|wobble|wobbling|wobbly|rough|runs rough|running rough|screeching|screech|"
     "banging|thumping|ticking|clicking|weird sound|funny sound|strange sound|bad sound"},
    {TOPIC_TROUBLE, 0,
     "overheat|overheats|overheated|overheating|running hot|runs hot|too hot to touch|"
     "getting hot|gets hot|temp light|warning light|warning lights|warning lite|warning lamp|check "
     "engine|"
     "check engine light|engine light|oil light|battery light|light is on|light came on|"
     "light on|lights on dash|error code|fault code|fault|code on|alarm|beeping|buzzer|"
     "problem|problems|issue|issues|milky|metal shavings|shavings|foamy|way low|really low|very "
     "low|too low|is low|running low|it is low|its low|low on oil|trouble|needs repair|needs "
     "fixing|need repair|"
     "needs a jump|dull blades|blade dull|stripped|corroded|rusted|clogged|plugged|plugged up|"
     "blocked|pulls left|pulls right|pulling left|pulling right|wont hold|"
     "sticks|sticking|drags|dragging|scalping|scalps|uneven cut|bad belt|bad bearing|"
     "bearing bad|bearing is bad|bearing going|bearing gone|belt gone|belt is gone|"
     "belt off|belt is off|belt came off|belt jumped|jumped off|tripped"},
    {TOPIC_TROUBLE | TOPIC_FIRM, 0,
     "wont start|will not start|wouldnt start|would not start|didnt start|did not start|"
     "doesnt start|does not start|dont start|not starting|cant start|cannot start|no start|"
     "hard to start|hard starting|wont crank|will not crank|wont turn over|not turning over|"
     "wont run|will not run|not running right|not running well|not running good|"
     "doesnt run right|wont move|will not move|not moving|doesnt move|wont drive|"
     "wont go|wont kick in|wont kick on|wont come on|wont engage|not engaging|wont disengage|wont "
     "shift|wont lift|wont raise|"
     "wont lower|wont turn|wont spin|not spinning|not cutting|not cutting right|wont cut|"
     "doesnt cut|wont stay running|wont idle|wont rev|wont charge|not charging|"
     "doesnt work|does not work|dont work|not working|isnt working|wont work|stopped working|"
     "quit working|not right|not good|no good|cant steer|wont steer|no steering|no power|"
     "no spark|no compression|no oil pressure|no pressure|no lights|no hydraulics|no oil|"
     "no charge|no drive|no reverse|nothing happens|isnt right|aint right|not acting right"},
    {TOPIC_TROUBLE | TOPIC_ESCAPES, 0,
     "leak|leaks|leaking|leaked|leaky|drip|drips|dripping|dripped|spill|spilled|spilling|"
     "spills|spraying|sprayed|sprays|squirting|gushing|pouring|pours|seeping|seeps|"
     "dumping|puking|spewing|pissing|losing"},
    {TOPIC_TROUBLE | TOPIC_DANGER | TOPIC_FIRM, 0,
     "wont stop|will not stop|doesnt stop|does not stop|cant stop it|cant stop|cannot stop|"
     "couldnt stop|not stopping|wouldnt stop|"
     "ran away|runaway|run away|took off on its own|took off by itself|moved on its own|"
     "moves on its own|moves by itself|moving on its own|no brakes|no brake|without brakes|"
     "lost brakes|lost the brakes|lost my brakes|lost its brakes|blades wont stop|"
     "blade wont stop|wont shut off|will not shut off|wont shut down|wont turn off"},
    {TOPIC_TROUBLE | TOPIC_DANGER, 0,
     "fire|on fire|in flames|flames|flame|burning|burning smell|smells burnt|burnt smell|"
     "smell burning|smells like burning|caught fire|burnt up|burned up|smoke|smoking|"
     "smokes|smokin|smoked|smoky|exploded|explosion|rolled over|roll over|rollover|"
     "rolled|rolled it|rolled the|rolled down|tipped over|tipped|flipped over|flipped|flipped it|"
     "turned over|upside down|on its side|on its roof|went over|hurt|injured|injury|injuries|"
     "bleeding|blood|ambulance|hospital|unconscious|pinned under|pinned|trapped under|"
     "trapped|crushed|lost a finger|cut his|cut her|cut my hand|cut my leg|cut my foot|"
     "cut his hand|cut his foot|broke his|broke her|broke my arm|broke my leg|electrocuted|"
     "shocked me|got shocked|run over|ran over his|ran over a man|ran him over|burned himself|is "
     "under it|is under the|stuck under|caught under|pinned by|got hit|was hit|got run over|hit by "
     "a blade|hit by the mower|cut "
     "himself|cut herself|cut myself|"
     "accident|emergency|call 911|called 911|calling 911|dial 911|need 911|"
     "sparks flying|sparks"},
    {TOPIC_FUEL, 0, "fuel|gas|gasoline|diesel|petrol|propane|tank leak"},
    {TOPIC_ESCAPES, 0, "smell|smells|smelling|smelled|fumes|odor|smelly"},
    {TOPIC_BRAKES, 0, "brake|brakes|foot brake"},
    {TOPIC_FAILS, 0,
     "gone|out|went out|gave out|failed|fail|failing|fails|went|quit|shot|wont hold|not holding|"
     "dont work|doesnt work|not working|dead|wont work|dont hold|doesnt hold|didnt work|"
     "no good|broke|broken|dont stop|wont grab|not grabbing|locked up|stopped working"},
    {TOPIC_NEGATES, 0,
     "no|nobody|no one|noone|not|no more|without|never|isnt|is not|arent|wasnt|dont|doesnt|does "
     "not|didnt|"
     "havent|hasnt|cant find any|none|nothing|no sign of|zero|stopped|quit|fixed the|fixed|aint|"
     "free of|any more|no longer|didnt find any|dont see any|dont hear any"},
    {TOPIC_PLAIN, 0,
     "stop sign|stop sign down|stop light|dead even|dead on|dead level|dead center|dead "
     "straight|dead end|dead "
     "grass|dead tree|"
     "dead leaves|dead limb|flat field|flat ground|flat part|flat area|flat spot|flat spots|"
     "flat out|flat land|back down|put down|set down|cut down|down the|"
     "down at|down by|down to|sat down|slow down|cooled down|washed down|wiped down|hosed down|"
     "blew off|blown off|fired up|fired right up|fires right up|fire hall|fire station|"
     "fire department|fire hydrant|fire road|fire lane|fire pit|fire ant|fire ants|rolled "
     "to|rolled past|rolled up|rolled in|rolled out|rolled into|rolled on|rolled by|rolled "
     "back|rolled off|fire drill|smoke break|"
     "lost time|lost signal|lost track|lost count|lost the sheet|lost my phone|lost phone|"
     "shot at|broke for|broke the soil|broke ground|breaks for|rip rap|rough cut|"
     "rough patch|rough area|the rough|in the rough|rough field|hit the road|"
     "hit the field|hit the showers|no problem|no problems|no issues|no issue|no trouble|"
     "missing you|worn in|blood drive|smoking area|without a hitch|hit the shop|down for the|"
     "quit time|quit early|quit for the|quitting for the|quitting early|quitting time|knock "
     "off|knocked "
     "off|knocking off|crack of dawn|"
     "run over to|ran over to|run over the|ran over the|went over the|went over to|went over it|"
     "turned over to|jam packed|"
     "nothing wrong|nothing broke|nothing broken|shut down for|shut off for|"
     "park brake|parking brake|handbrake|hand brake|popped by|popped in|popped over|out by|out at"},
    {TOPIC_PLAIN, 0, "in service|in use|in order|for sale|on sale"},
    {TOPIC_SOLVED, 0, "solved|resolved"},

    /* where a machine is */
    {TOPIC_BOOK, 0, "book|books|booked|booking|appointment|appt"},
    {TOPIC_BOOK, BOOK_DROPPED,
     "unbook|unbooked|booking off|booking is off|booking cancelled|booking canceled|"
     "booking is cancelled|booking is canceled|cancelled booking|cancelled the booking|"
     "drop the booking|drop booking"},
    {TOPIC_IN, 0,
     "in|in shop|in the shop|in our shop|at shop|at the shop|in the bay|in bay|came in|brought in|"
     "dropped off|arrived|arrived at the shop|back in|back in shop|back in the shop|back at shop|"
     "back at the shop"},
    {TOPIC_COMES, 0,
     "bring|bring in|take in|comes in|coming in|come in|is coming in|goes in|going in|go in|is "
     "going in|will be in|"
     "will come in|will go in|to come in|to go in|bringing|bringing in|dropping off|due in|"
     "expected in|coming to the shop|going to the shop|comes to the shop|goes to the shop|"
     "coming into the shop|going into the shop|going in the shop|will be in the shop"},
    {TOPIC_OUT, 0,
     "out|out of shop|out of the shop|left the shop|left shop|picked up|out of the bay|out the "
     "door"},
    {TOPIC_GONE, 0, "gone"},
    {TOPIC_GONE | TOPIC_FIRM, 0,
     "sold|sold off|scrapped|junked|traded in|auctioned|auctioned off|written off"},
    {TOPIC_PARK, 0, "park|lay up|laid up"},
    {TOPIC_BACK, 0, "back|back at work|back to work|back in service|back in use"},
    {TOPIC_ASIDE, 0,
     "now|is now|it|its|brought|just|has|have|had|has been|have "
     "been|been|was|were|are|got|already|again|we|i|weve|ive"},
    {TOPIC_AHEAD, 0, "in|within"},

    /* second thoughts */
    {TOPIC_RETRACTS, 0,
     "oops|oop|ooops|oopsie|whoops|woops|scratch that|scratch it|strike that|no wait|correction|"
     "my mistake|my bad|nvm|nevermind|never mind|ignore that|ignore it|disregard|"
     "disregard that|disregard it|forget that|forget it|wrong|thats wrong|that is wrong|that is "
     "not right|thats not right|"
     "not right|not correct|incorrect|wrong one|wrong machine|wrong mower|wrong number|"
     "wrong reading|typo|mistake|ops|i was wrong|wrong unit|mistyped|misread|misread it|"
     "fat fingered|fat fingers|fat finger"},
    {TOPIC_SORRY, 0,
     "sorry|so sorry|wait|i mean|i meant|meant|mean|actually|make that|make it|should be|"
     "should have been|shouldve been|should say|should read|rather|hold on|apologies|hang on|"
     "sry|srry|sorry about that|sorry its|sorry i meant|sorry i mean|sorry that was|"
     "sorry that should be|sorry it was|it should be|it should have been|that should be|"
     "that should have been|it was supposed to be|supposed to be|meant to say|"
     "i meant to say|meant to put|meant to send|excuse me"},
    {TOPIC_RATHER, 0, "not|is not|isnt|was not|wasnt|instead of|rather than|and not|in place of"},

    /* readings told in words */
    {TOPIC_SAME, 0,
     "same|same as yesterday|the same|same as last time|same as last|same as before|"
     "same reading|same hours|still the same|unchanged|same as the last one|"
     "the same as yesterday|same as last week|same number|same figure|same as friday|"
     "same as monday|same as last friday|ditto"},
    {TOPIC_SAME, 1,
     "did not run|didnt run|didnt move|did not move|didnt get used|wasnt used|was not used|"
     "not used|not run|didnt use it|did not use it|didnt use|did not use|hasnt run|hasnt moved|"
     "has not run|has not moved|never ran|never moved|never left the barn|never left the shop|"
     "sat all day|sat idle|stood idle|stayed parked|"
     "stayed in the barn|stayed in the shop|no change|no hours|no hours today|no new hours|"
     "hasnt been used|wasnt run|has not been used|idle all day|idle today|sat today|"
     "not used today|did not go out|didnt go out|didnt get run|was idle|no run|"
     "not run today|no use today|no use|no run today"},
    {TOPIC_BEGINS, 0,
     "start|started|starting|begin|began|start of day|starting hours|start hours|started at|"
     "started with|start at|beginning|morning reading|start of shift|from"},
    {TOPIC_ENDS, 0,
     "end|ended|ending|finish|finished|stop|stopped|end of day|ending hours|end hours|final|"
     "ended at|ended with|finished at|finished with|stopped at|end at|evening reading|"
     "end of shift|done at|quit at"},
    {TOPIC_WORKED, 0,
     "worked|mowed|ran it|ran it for|ran for|i worked|we worked|put in|put|ran|mowing|used it|"
     "used it for|used for|cut for|mowed for|worked for|i put|i put in|we put in|did|"
     "running it|ran about|ran it about|logged about|was on|was on it|spent"},
    {TOPIC_NUMBER, 0, "zero|oh|o"},
    {TOPIC_NUMBER, 1, "one"},
    {TOPIC_NUMBER, 2, "two"},
    {TOPIC_NUMBER, 3, "three"},
    {TOPIC_NUMBER, 4, "four"},
    {TOPIC_NUMBER, 5, "five"},
    {TOPIC_NUMBER, 6, "six"},
    {TOPIC_NUMBER, 7, "seven"},
    {TOPIC_NUMBER, 8, "eight"},
    {TOPIC_NUMBER, 9, "nine"},
    {TOPIC_NUMBER, 10, "ten"},
    {TOPIC_NUMBER, 11, "eleven"},
    {TOPIC_NUMBER, 12, "twelve"},
    {TOPIC_NUMBER, 13, "thirteen"},
    {TOPIC_NUMBER, 14, "fourteen"},
    {TOPIC_NUMBER, 15, "fifteen"},
    {TOPIC_NUMBER, 16, "sixteen"},
    {TOPIC_NUMBER, 17, "seventeen"},
    {TOPIC_NUMBER, 18, "eighteen"},
    {TOPIC_NUMBER, 19, "nineteen"},
    {TOPIC_NUMBER, 20, "twenty"},
    {TOPIC_NUMBER, 30, "thirty"},
    {TOPIC_NUMBER, 40, "forty|fourty"},
    {TOPIC_NUMBER, 50, "fifty"},
    {TOPIC_NUMBER, 60, "sixty"},
    {TOPIC_NUMBER, 70, "seventy"},
    {TOPIC_NUMBER, 80, "eighty"},
    {TOPIC_NUMBER, 90, "ninety"},
    {TOPIC_HUNDRED, 0, "hundred"},
    {TOPIC_THOUSAND, 0, "thousand"},
    {TOPIC_POINT, 0, "point|dot|decimal"},

    {TOPIC_NEW_METER, 0,
     "new meter|new hour meter|new hourmeter|meter is new|meter was replaced|replaced the meter|"
     "replaced meter|meter replaced|meter was swapped|got a new meter|has a new meter|"
     "with a new meter|on new meter|on the new meter|put a new meter on|new meter reads|"
     "new meter says|new meter shows|changed the meter|meter changed"},

    /* places */
    {TOPIC_STREET, 0,
     "street|st|str|ave|av|avenue|road|rd|blvd|boulevard|highway|hwy|parkway|pkwy|lane|ln|court|"
     "ct|circle|cir|terrace|ter|trail|trl|place|pl|plaza|square|sq|alley|route|rte|freeway|"
     "fwy|apt|suite|ste|crescent|county road|turnpike|loop"},
    {TOPIC_STREET_TOO, 0,
     "drive|dr|way|run|pass|path|row|walk|bend|ridge|hill|park|point|cove|grove|circle"},
    {TOPIC_COMPASS, 0, "n|s|e|w|ne|nw|se|sw|north|south|east|west"},
    {TOPIC_PLACE, 0, "at|on|near|over at|out at|out on|up at|down at|by"},

    /* services */
    {TOPIC_UPKEEP, 0,
     "service|services|servicing|svc|maintenance|oil "
     "change|oil changes|inspection|tune up|"
     "tuneup|check up|checkup|pm|service interval|interval|oil service|filter change|"
     "drive service|engine service|oil and filter|oil and filters|oil and filter change|"
     "service due|lube|greasing|overhaul|change|belt change|fluid change|checkover"},
    {TOPIC_SERVICED, 0,
     "done|done at|swapped the|swapped both|swapped filters|swapped drive|swapped "
     "engine|serviced|service done|service complete|service "
     "completed|changed|replaced|swapped out|"
     "did|did the|new oil|new filters|new filter|fresh oil|"
     "put new|put in new|installed|inspected|lubed|flushed|drained and filled|"
     "refilled|completed|complete|finished service|performed|all done|"
     "oil is done|drained|rebuilt|took care of"},
    {TOPIC_BOTH, 0, "both|both plans|both services"},
    {TOPIC_ALL, 0,
     "all|all plans|all services|everything|all of it|all of them|the works|the lot|all 3|all "
     "three"},
    {TOPIC_SIDE, 1, "left|lh|left side|driver side|drivers side|left hand|left drive|left hub"},
    {TOPIC_SIDE, 2, "right|rh|right side|passenger side|right hand|right drive|right hub"},
    {TOPIC_SIDE, 3, "tank|reservoir|expansion tank|res|top tank|overflow"},

    /* answers */
    {TOPIC_INTRODUCES, 0, "its|it is|this is|im|i am|here is|my name is|from|thats|that is|with"},
    {TOPIC_CHECKED, 0,
     "all done|checked|checked it|level ok|level good|level is good|level is ok|level fine|level "
     "is fine|"
     "oil ok|oil good|oil is good|oil is ok|oil is fine|oil level ok|oil level good|topped off|"
     "topped up|topped it off|topped it up|at the mark|on the mark|at the line|on the line|"
     "at full|its full|looks full|level checked|checked level|checked oil|checked the oil|"
     "checked the level|checked and good|checked ok|oil checked|already checked|just checked|"
     "right at the mark|right on the mark|up to the mark|to the mark|full mark|dead on the mark|"
     "level looks good|oil looks good|looks good on the stick"},
    {TOPIC_LEVEL, 0,
     "level|oil level|oil|dipstick|stick|mark|the mark|fluid|fluid level|the level|the oil"},
    {TOPIC_SPELLED, 0, "yes|yse|yess|yesss|yes sir|yes maam"},
};

const struct word_table words_en = {rows, sizeof rows / sizeof rows[0], topics,
                                    sizeof topics / sizeof topics[0]};
