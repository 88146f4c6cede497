"""Function words of English, as lists: what turns, doubts, corrects, supposes, points and joins.
No word of the trade is here.
"""

from __future__ import annotations


def _set(text: str) -> frozenset:
    return frozenset(text.split())


CONTRACTIONS = {
    "can't": ("can", "not"),
    "cannot": ("can", "not"),
    "cant": ("can", "not"),
    "won't": ("will", "not"),
    "wont": ("will", "not"),
    "shan't": ("shall", "not"),
    "ain't": ("is", "not"),
    "aint": ("is", "not"),
    "dont": ("do", "not"),
    "doesnt": ("does", "not"),
    "isnt": ("is", "not"),
    "wasnt": ("was", "not"),
    "arent": ("are", "not"),
    "didnt": ("did", "not"),
    "hasnt": ("has", "not"),
    "havent": ("have", "not"),
    "wouldnt": ("would", "not"),
    "couldnt": ("could", "not"),
    "shouldnt": ("should", "not"),
    "let's": ("let", "us"),
    "lets": ("let", "us"),
    "whats": ("what", "is"),
    "what's": ("what", "is"),
    "theres": ("there", "is"),
    "thats": ("that", "is"),
    "wheres": ("where", "is"),
    "hows": ("how", "is"),
    "im": ("i", "am"),
    "ive": ("i", "have"),
    "weve": ("we", "have"),
    "youve": ("you", "have"),
    "theyre": ("they", "are"),
    "gonna": ("going", "to"),
    "wanna": ("want", "to"),
    "gotta": ("got", "to"),
    "dunno": ("do", "not", "know"),
    "w/o": ("without",),
    "c'mon": ("come", "on"),
    "y'all": ("you", "all"),
    "innit": (),
    "hasn't": ("has", "not"),
    "nowt": ("nothing",),
    "summat": ("something",),
    "owt": ("anything",),
    # text-speak and ways of speaking
    "n": ("and",),
    "an'": ("and",),
    "abt": ("about",),
    "bout": ("about",),
    "whatd": ("what", "would"),
    "whatll": ("what", "will"),
    "howll": ("how", "will"),
    "approx": ("approximately",),
    "wot": ("what",),
    "wat": ("what",),
    "ur": ("your",),
    "pls": ("please",),
    "plz": ("please",),
    "thx": ("thanks",),
    "ppl": ("people",),
    "tho": ("though",),
    "cos": ("because",),
    "coz": ("because",),
    "cuz": ("because",),
    "bc": ("because",),
    "bcs": ("because",),
    "prolly": ("probably",),
    "defo": ("definitely",),
    "def": ("definitely",),
    "nae": ("no",),
    "naw": ("no",),
    "cannae": ("can", "not"),
    "dinnae": ("do", "not"),
    "didnae": ("did", "not"),
    "isnae": ("is", "not"),
    "wisnae": ("was", "not"),
    "doesnae": ("does", "not"),
    "hasnae": ("has", "not"),
    "havenae": ("have", "not"),
    "wullnae": ("will", "not"),
    "wouldnae": ("would", "not"),
    "couldnae": ("could", "not"),
    "wasnae": ("was", "not"),
    "ken": ("know",),
    "oot": ("out",),
    "doon": ("down",),
    "aboot": ("about",),
    "roond": ("round",),
    "wi": ("with",),
    "fae": ("from",),
    "thon": ("that",),
    "yon": ("that",),
    "yous": ("you",),
    "wee": ("small",),
    "em": ("them",),
    "havin": ("having",),
    "goin": ("going",),
    "nuthin": ("nothing",),
    "nuffin": ("nothing",),
    "sumthing": ("something",),
    "theyve": ("they", "have"),
    "theyll": ("they", "will"),
    "therell": ("there", "will"),
    "itll": ("it", "will"),
    "youre": ("you", "are"),
    "weren't": ("were", "not"),
    "werent": ("were", "not"),
    "hadnt": ("had", "not"),
    "shes": ("she", "is"),
    "hes": ("he", "is"),
    "whos": ("who", "is"),
    "couldve": ("could", "have"),
    "shouldve": ("should", "have"),
    "d'you": ("do", "you"),
    "dyou": ("do", "you"),
    "tbh": (),
    "imo": (),
    "btw": (),
    "lol": (),
    "haha": (),
    "kinda": ("kind", "of"),
    "sorta": ("sort", "of"),
    "lotta": ("lot", "of"),
    "coupla": ("couple", "of"),
    "outta": ("out", "of"),
    "oughta": ("ought", "to"),
    "lemme": ("let", "me"),
    "gimme": ("give", "me"),
    "wouldn't": ("would", "not"),
    "where'd": ("where", "did"),
    "how'd": ("how", "did"),
    "why'd": ("why", "did"),
    "what'd": ("what", "did"),
    "gonnae": ("going", "to"),
}
SPELLINGS = {  # one spelling for what is written in several
    "meter": "metre",
    "meters": "metre",
    "center": "centre",
    "color": "colour",
    "gray": "grey",
    "mold": "mould",
    "fiber": "fibre",
    "aluminum": "aluminium",
    "carabiner": "karabiner",
    "carabiners": "karabiner",
    "crab": "karabiner",
    "krab": "karabiner",
    "crabs": "karabiner",
    "krabs": "karabiner",
    "biner": "karabiner",
    "judgment": "judgement",
    "licence": "license",
    "draft": "draught",
    "drafty": "draughty",
    "practiced": "practised",
    "practicing": "practising",
    "practice": "practise",
    "galvanized": "galvanised",
    "ropes": "rope",
    "wet.": "wet",
    "tite": "tight",
    "thru": "through",
    "alot": "lot",
    "labeled": "labelled",
    "sulfide": "sulphide",
    "men": "person",
    "man": "person",
    "persons": "person",
    "people": "person",
    "folk": "person",
    "folks": "person",
    "childs": "children",
    "child": "children",
    "kid": "children",
    "kids": "children",
    "feet": "foot",
    "broke": "broken",
    "busted": "broken",
    "stuck": "stuck",
    "bust": "broken",
    "reccied": "recce",
    "recced": "recce",
    "mm's": "mm",
    "hung": "hang",
    "hangs": "hang",
    "sharpish": "sharp",
    "knackered": "knackered",
    "shackles": "shackle",
}
NEGATORS = _set(
    "no not never without none neither nor nobody nothing nil lacks lacking lack minus missing"
    " absent"
)
DOUBTERS = (  # token sequences after contractions came apart
    "usually",
    "normally",
    "typically",
    "generally",
    "mostly",
    "often",
    "sometimes",
    "last year",
    "last time",
    "last week",
    "last month",
    "last summer",
    "last winter",
    "used to",
    "in summer",
    "in winter",
    "as a rule",
    "on a good day",
    "yesterday",
    "years ago",
    "hardly",
    "barely",
    "scarcely",
    "not exactly",
    "not really",
    "look",
    "looks",
    "looked",
    "looking",
    "look like",
    "seems",
    "appears",
    "seem",
    "should",
    "think",
    "i think",
    "reckon",
    "reckons",
    "thinks",
    "guesses",
    "thought",
    "was told",
    "probably",
    "prob",
    "probs",
    "maybe",
    "perhaps",
    "guess",
    "might",
    "may",
    "could be",
    "supposed",
    "supposedly",
    "allegedly",
    "reportedly",
    "in theory",
    "on paper",
    "meant to",
    "apparently",
    "hopefully",
    "hope",
    "presumably",
    "possibly",
    "not sure",
    "unsure",
    "not certain",
    "uncertain",
    "not convinced",
    "doubt",
    "doubtful",
    "dubious",
    "iffy",
    "dodgy",
    "can not say",
    "can not tell",
    "can not swear",
    "would not swear",
    "hard to say",
    "do not know whether",
    "do not know if",
    "not know if",
    "from memory",
    "if i remember",
    "someone said",
    "they say",
    "told",
    "i am told",
    "says here",
    "kind of",
    "sort of",
    "as far as i know",
    "afaik",
    "imagine",
    "assume",
    "assuming",
    "could use",
    "could have",
    "could rig",
    "could go",
    "could put",
    "could try",
    "might use",
    "thinking of",
    "thinking about",
    "tempted to",
    "considering",
    "toying with",
    "expect",
    "not checked but",
    "to my eye",
    "to speak of",
    "as good as",
    "near as damn it",
    "as near as makes no odds",
    "at a guess",
    "feels like",
    "appear",
    "suspect",
    "likely",
    "almost certainly",
    "fairly sure",
    "pretty sure",
    "quite sure",
    "i believe",
    "believe",
    "must be",
    "would say",
    "would have thought",
)
PAST = (  # another time than now
    "last year",
    "last time",
    "last week",
    "last month",
    "last summer",
    "last winter",
    "last season",
    "last trip",
    "years ago",
    "year ago",
    "weeks ago",
    "months ago",
    "days ago",
    "the other day",
    "yesterday",
    "used to",
    "years back",
    "in the past",
    "once had",
    "previous trip",
    "when i was",
    "back in",
)
# Sequences that open talk of what is not so, or of another time: nothing in such a sentence is a
# fact.
ASIDES = (
    "i wish",
    "we wish",
    "wish",
    "if only",
    "would that",
    "once we",
    "once i",
    "once there",
    "once had",
    "once upon",
    "i once",
    "we once",
    "there was a time",
    "remember when",
    "remember a",
    "remember one",
    "remember somebody",
    "remember someone",
    "remember the time",
    "remember that time",
    "back in the",
    "back when",
    "one time",
    "in the old days",
    "in the good old days",
    "when i was",
    "when we were",
    "reminds me",
    "that reminds me",
    "it reminds me",
    "i dreamt",
    "i dreamed",
    "imagine that",
    "as if",
    "yeah right",
    "aye right",
    "oh great",
    "oh brilliant",
    "oh lovely",
    "oh joy",
    "pull the other one",
    "i remember",
    "the other day",
    "a mate of mine",
    "a friend of mine",
    "in the film",
    "on the telly",
    "on tv",
    "last time we",
    "last time i",
    "i used to",
    "we used to",
    "people used to",
    "they used to",
    "in my day",
    "my grandad",
)
VAGUE_GOOD = _set(
    "fine ok okay alright good great solid vouch trust trusted hold holds held bomber bombproof"
    " proof sound safe happy perfect decent nice healthy reliable wrong strong"
)
HYPOTHETICALS = (
    "what if",
    "suppose",
    "supposing",
    "say we",
    "say i",
    "say it",
    "say there",
    "say the",
    "say they",
    "say my",
    "say all",
    "imagine we",
    "imagine i",
    "imagine the",
    "let us say",
    "how about if",
    "what about if",
    "if we",
    "if i",
    "if the",
    "if it",
    "if there",
    "if they",
    "what happens if",
    "what changes if",
    "hypothetically",
    "assume we",
    "assuming we",
    "what would happen if",
    "would it help if",
    "would it be better if",
    "and if",
    "but if",
    "but what if",
    "if",
    "let us imagine",
    "let us suppose",
    "suppose that",
    "if someone",
    "if somebody",
    "if anyone",
    "if one",
    "if he",
    "if she",
    "if a",
    "if my",
    "if all",
    "if both",
    "say someone",
    "say somebody",
    "say one",
    "say a",
    "suppose someone",
    "imagine someone",
    "imagine one",
    "in case",
    "and what if",
    "ok what if",
)
LATER_HYPOTHETICALS = (  # after the question that they belong to: 'would you still go if it were'
    "if it were",
    "if it was",
    "if it is",
    "if we were",
    "if we had",
    "if we took",
    "if we take",
    "if we went",
    "if there were",
    "if there was",
    "if they were",
    "if i were",
    "if i was",
    "if i took",
)
CORRECTORS = (
    "sorry",
    "soz",
    "my bad",
    "whoops",
    "i tell a lie",
    "tell a lie",
    "i mean",
    "i meant",
    "make that",
    "make it",
    "correction",
    "actually",
    "no wait",
    "wait no",
    "rather",
    "scratch that",
    "scrap that",
    "should be",
    "should read",
    "my mistake",
    "i misspoke",
    "meant",
    "change that to",
    "change it to",
    "or rather",
    "oops",
    "not quite",
    "wrong",
    "no sorry",
    "typo",
)
PRONOUNS = _set("it its that this one ones they them these those he she him her his")
SIDE_PRONOUNS = _set("one ones other")
YES = _set(
    "yes yep yeah yup aye ya ye y affirmative correct true sure definitely absolutely certainly"
    " course indeed"
)
NO = _set("no nope nah naw nay nae n negative false nay")
UNKNOWN_ANSWERS = (
    "no idea",
    "do not know",
    "not know",
    "no clue",
    "not sure",
    "unsure",
    "can not tell",
    "can not say",
    "could not say",
    "could not tell",
    "who know",
    "search me",
    "unknown",
    "not known",
    "haven not a clue",
    "have not a clue",
    "have not looked",
    "not looked",
    "have not checked",
    "did not look",
    "pass on that",
    "hard to say",
    "beats me",
    "no way of knowing",
    "not certain",
    "haven not looked",
    "idk",
    "tbc",
    "?",
    "do not remember",
    "can not remember",
    "would not know",
    "have no idea",
    "not a clue",
    "you tell me",
)
ALL_OF = _set("both all every each either neither")
NEW_ONE = _set("another")
WAYS = _set("walk walking drive driving hike min mins minute minutes hour hours mile miles")
ORDINALS = {
    "first": "first",
    "second": "second",
    "third": "third",
    "fourth": "fourth",
    "1st": "first",
    "2nd": "second",
    "3rd": "third",
}
ADJECTIVES = _set(
    "big small large little old new long short upper lower top bottom far near back front outer"
    " inner main other spare red blue green yellow black white grey orange purple pink steel shiny"
    " beefy chunky hefty stout sturdy meaty skinny manky ropey battered ancient dodgy scabby"
    " rusty first second third fourth third-party high low fat thin thick huge massive tiny"
)
NOT_NAMES = _set(
    "new other rusty beefy chunky hefty stout sturdy meaty manky ropey battered"
    " ancient dodgy scabby"
)  # adjectives that say something and are no part of a name
SEPARATORS = _set(
    ", ; . ! ? and & + but then plus also while whereas though although so because | / however"
    " except"
)
CLAUSE_BREAKS = _set("; . ! ? but however though although whereas")
FILLERS = _set(
    "a an the is are was were be been being am it its his her their our my your some got get gets"
    " gotten has have had having there do does did of this that these those to we he she they i you"
    " us them very quite really just bit little rather pretty fairly would shall"
)
# Words that carry no fact of their own: left out silently when they are left over.
COMMON = FILLERS | _set(
    "year years month months week weeks hour hours minute minutes today's summer winter will proper"
    " properly doing one me so too kind sort now yet already also still all well can could go goes"
    " going gone up in on at by for with from as out and or into onto over upon off okay ok um uh"
    " er erm hmm hm oh ah well so like please thanks thank cheers mate hi hello hey morning evening"
    " today tonight tomorrow yesterday then here day days trip trips weekend saturday sunday monday"
    " tuesday wednesday thursday friday lovely nice nicely usual usually normal normally typical"
    " mostly mainly basically literally obviously actually really just maybe anyway though although"
    " but because since if when where while until till before after during about around roughly"
    " approx only even ever never always often sometimes again back down through across along near"
    " under above below between against without within off than more less most least much many lot"
    " lots few several each every any both other others another same different own such what which"
    " who whom whose why how me myself himself herself themselves ourselves yourself everyone"
    " everybody anyone anybody someone somebody something anything everything nothing thing things"
    " stuff way say says said saying think thought know knew known look looks looked looking see"
    " saw seen feel feels felt seem seems take takes taking took taken make makes making made use"
    " using used want wants need needs put puts bring brings bringing carry carrying carried come"
    " comes coming came let keep keeps left-over mean means call called try tried might may must"
    " should not no yes yeah yep nope nah per total altogether exactly nearly almost bring brought"
    " keep kept give given gave find found plan planned planning going have having run running sit"
    " sits sitting stand stands standing stay stays hang hangs tell told ask asked good bad fine"
    " better best worse worst big small large old new long short high low far deep wide first"
    " second last next top bottom side end start part whole place point line number bloke guy guys"
    " lad lads lass folks person someone team crew bunch set total pair couple sorry oops right"
    " correct wrong true sure certain hopefully probably possibly quick quickly slow slowly obvious"
    " obviously decent everywhere somewhere nowhere anywhere throughout entire entirely completely"
    " totally absolutely definitely certainly slightly somewhat steady steadily constantly gently"
    " heavily badly clearly plainly must mustn shan ought either neither nor else instead enough"
    " plenty full hand hands eye eyes time times bits spot spots piece pieces it'll lets shall yet"
    " still already soon later earlier once twice thrice half hiya gday howdy mornin arvo tonite"
    " tonight wotcha oi alrighty righto blimey crikey folks peeps chaps fellas lassies january"
    " february march april june july august september october november december jan feb apr jun jul"
    " aug sept oct nov dec spring autumn think reckon guess suppose believe figure expect imagine"
    " assume afraid glad happy nobody noone whatever whichever however somehow per via etc eg ie"
    " fyi btw tbh imo"
)
PARTLY = (
    "half of",
    "most",
    "most of",
    "some of",
    "some have",
    "some are",
    "a few of",
    "few of",
    "several",
    "a couple of",
    "mix of",
    "mixture",
    "nearly all",
    "almost all",
    "not all",
    "apart from",
    "except",
    "bar one",
    "all but",
    "one of",
    "two of",
    "three of",
    "nearly everyone",
    "almost everyone",
    "not everyone",
    "not everybody",
    "one or two",
    "many of",
    "the odd one",
    "in part",
    "in places",
)  # said of some: nothing good holds for all
HEDGES = _set(
    "much very badly really that too lot quickly often fully completely entirely properly always"
)  # 'not bleeding much' is not 'not bleeding'
UNDONE = _set(
    "cleared removed replaced mended fixed sorted gone repaired tightened cleaned swapped stopped"
)  # what was so is so no more
OTHERS = _set(
    "he she they them him her his lad lads lass kid kids bloke guy someone somebody client clients"
    " novice group one"
)  # people other than the speaker
POLITE = _set(
    "hold ok okay right well so yes no yeah yep thanks thank you ta cheers please sorry hi hello"
    " hey hiya morning good afternoon evening um er erm uh ah oh hmm mm great lovely nice fine got"
    " it i see sure cool understood roger wilco noted alright all mate pal love very much a the"
    " that is and then now just wait hang on a minute sec moment one let me think"
)
QUESTION_STARTS = _set(
    "what why where when who whom whose which how is are was were do does did can could will would"
    " should shall may might must has have had am"
)
STATEMENT_STARTS = _set("there that this it we i they he she you")
COMPOUND_OK = _set(
    "today now there here everywhere anyway though mate again too only please lads guys folks yet"
    " still already somewhere underground inside outside overall"
)
NUMBER_WORDS = {
    "zero": 0,
    "nil": 0,
    "nought": 0,
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
    "eleven": 11,
    "twelve": 12,
    "thirteen": 13,
    "fourteen": 14,
    "fifteen": 15,
    "sixteen": 16,
    "seventeen": 17,
    "eighteen": 18,
    "nineteen": 19,
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fourty": 40,
    "fifty": 50,
    "sixty": 60,
    "seventy": 70,
    "eighty": 80,
    "ninety": 90,
    "tre": 3,
    "fiver": 5,
    "tenner": 10,
}
GROUPS = {"dozen": 12, "score": 20, "couple": 2, "pair": 2, "brace": 2}
SCALES = {"hundred": 100, "thousand": 1000, "k": 1000}
PARTS = {"half": "1/2", "quarter": "1/4", "quarters": "1/4", "third": "1/3", "thirds": "1/3"}
MOST = (
    "at most",
    "no more than",
    "not more than",
    "up to",
    "less than",
    "under",
    "fewer than",
    "max",
    "maximum",
    "maximum of",
    "at the most",
    "tops",
    "no longer than",
    "below",
    "within",
    "not over",
)
LEAST = (
    "at least",
    "no less than",
    "not less than",
    "more than",
    "over",
    "upwards of",
    "min",
    "minimum",
    "minimum of",
    "at the least",
    "in excess of",
    "above",
    "not under",
    "no fewer than",
)
ABOUT = (
    "about",
    "around",
    "roughly",
    "approx",
    "approximately",
    "circa",
    "ca",
    "c",
    "some",
    "more like",
    "pushing",
    "touching",
    "nudging",
    "a touch over",
    "a touch under",
    "just about",
    "nearer",
    "nearer to",
    "closer to",
    "a good",
    "just shy of",
    "just short of",
    "knocking on",
    "a tad over",
    "a tad under",
    "a shade over",
    "a shade under",
    "a small bit over",
    "a small bit under",
    "a little over",
    "a little under",
    "nearly",
    "almost",
    "just over",
    "just under",
    "a bit over",
    "a bit under",
    "a bit more than",
    "a bit less than",
    "somewhere around",
    "getting on for",
    "close to",
    "near enough",
    "near on",
    "give or take",
    "ballpark",
    "maybe",
    "say",
    "more or less",
    "not far off",
    "in the region of",
    "something like",
    "order of",
)
ABOUT_AFTER = (
    "ish",
    "or so",
    "or thereabouts",
    "thereabouts",
    "give or take",
    "odd",
    "near enough",
    "roughly",
    "approx",
    "approximately",
    "or similar",
    "ballpark",
    "more or less",
    "ish or so",
)
# Words that tell nothing of themselves; every other word is said back, or said to be left over.
LIGHT = (
    FILLERS
    | POLITE
    | PRONOUNS
    | QUESTION_STARTS
    | _set(
        "about absolutely across actually after again ago ah all almost along already alright"
        " also although altogether always and another any anybody anyhow anyone anything anyway"
        " apparently approx approximately around as ask asked asks at back basically because"
        " before behind being between bit bits blimey bloke bloody both bring brings brought btw"
        " but by call called calls came can cheers come comes coming completely correction cos"
        " could day days doing done down duck during each eg either else end er etc even ever"
        " every everybody everyone everything exactly fairly feel feels felt few find fine"
        " flipping folk for found from gave get gets getting give given gives go goes going gone"
        " good got great guess guy guys haha hang having hello her here herself hey hi him himself"
        " hold hopefully how however i'm ie if in instead into it's itself just keep keeps kept"
        " kind know known knows lad lads lass later let let's lets like literally lol look looked"
        " looks lot lots love lovely made make makes making many mate may maybe me mean means"
        " meant might mind mine more most much must my myself near nearly need needs neither never"
        " nice no none nor not nothing now nowt number obviously of off often oh ok okay on once"
        " one ones only onto oops or other ought our out over own owt pal part people perhaps"
        " person place please point possibly pretty probably proper properly put puts quite rather"
        " really reckon right roughly round said same saw say saying says see seem seems seen"
        " several shall should show shows side since so some somebody somehow someone something"
        " sometimes somewhat soon sorry sort still stuff such summat sure ta take taken takes"
        " taking tbh tell than thanks that that's them themselves then there thing things think"
        " thinks though thought through till time times to today together told tomorrow tonight"
        " too took total totally tried tries try twice um under unless until up us use used uses"
        " using very wait want wants way ways well went what whatever when where whether which"
        " while who whom whoops whose why will with worth would wrong yes yet you your"
    )
)
