"""What people ask for, by the shape of the question; and what is no business of this program."""

from __future__ import annotations

import re

_LEAD = (
    r"(?:(?:so|ok|okay|right|well|and|but|now|then|please|hey|um|er|oh|hang"
    r" on|wait|sorry|oops|whoops|just|also|anyway|yes|no|yeah|go on|i say|tell me|remind me|show"
    r" me|give me|let us have|let us see|let us hear|can you (?:just )?(?:tell|show|remind|give)"
    r" (?:me|us)|could you (?:just )?(?:tell|show|remind|give) (?:me|us)|i (?:want|need|would"
    r" like|d like) to know|any idea|do you know|question|quick question|list|what i want to know"
    r" is) )*"
)

_PATTERNS = (
    (
        "help",
        (
            r"(?:help(?: me| please)?$|\? ?$|what (?:(?:can|do) (?:i|you) (?:say|type|ask|do"
            r" here)|can i do$|do you do$)|what can you do|how (?:do|does) (?:i|this|it) (?:use"
            r" this|use you|work)|how to use|instruction|commands?$|what are you(?: for)?$)"
        ),
    ),
    (
        "quit",
        (
            r"(?:quit|exit|bye|good ?bye|cheerio|see you|that is (?:all|it)(?: for"
            r" (?:now|today))?$|i am (?:done|off|finished)|we are (?:done|finished)|stop here|log"
            r" ?out|leave$|end$|close$|finish(?:ed)?$|done$|that will do|goodnight|good night)"
        ),
    ),
    (
        "start again",
        (
            r"(?:start (?:again|over|afresh|from scratch|a new one)|restart|reset|begin again|new"
            r" (?:plan|pitch|case|trip|one)$|wipe (?:it|that|the lot|everything)|clear"
            r" (?:it|everything|the lot|all)|forget (?:it all|everything|all that|the lot)|scrap"
            r" (?:everything|the lot|it all)|from the top again|fresh start|back to square one)"
        ),
    ),
    (
        "redo",
        (
            r"(?:redo|put (?:it|that) back|un ?undo|do (?:it|that) again after all|bring"
            r" (?:it|that) back|no keep (?:it|that))"
        ),
    ),
    (
        "undo",
        (
            r"(?:undo|take (?:it|that|the last one|that last one|the last thing|that last bit)"
            r" (?:back|out|off)|scratch (?:that|the last)|forget (?:that|the last|i said|what"
            r" i)|ignore (?:that|the last)|strike (?:that|the last)|cancel (?:that|the last)|go"
            r" back(?: one| a step)?$|step back|delete (?:that|the last)|remove (?:that|the"
            r" last)|scrap (?:that|the last)|i did not (?:mean|say) that|disregard|never ?mind(?:"
            r" that)?$|back$|wrong take)"
        ),
    ),
    (
        "just tell me",
        (
            r"(?:just (?:tell|give) (?:me|us)|(?:stop|no more|enough|quit|less) (?:asking |with the"
            r" |of the |of your )?questions?|(?:stop|quit) asking|do not ask|get on with it|cut to"
            r" the chase|bottom line|short answer|spare me the|no questions)"
        ),
    ),
    (
        "skip",
        (
            r"(?:skip|pass$|next$|next (?:one|question)|move on|leave (?:that|it)(?: one)?(?: for"
            r" now)?$|later$|come back to (?:that|it)|ask me (?:later|something else|another)|not"
            r" now|another question)"
        ),
    ),
    (
        "told",
        (
            r"(?:what (?:have|did|do) (?:i|we|you)"
            r" (?:told|tell|said|say|have|given|got|know|heard|hear)(?!"
            r" .*(?:not|missing)).*|(?:list|show|read|repeat|recap|summar\w+|play)(?: me| back|"
            r" us)? ?(?:what i|the facts|all facts|facts|everything i|what you|it back|back|so"
            r" far|my).*|recap.*|summar\w+.*|facts$|the facts.*|so far.*|where are we|what is (?:on"
            r" record|in there|noted|the story so far)|read (?:it|that) back)"
        ),
    ),
    (
        "unknowns",
        (
            r"(?:what (?:else )?(?:do|are|is|would|does|have) (?:not you|you not|you"
            r" still|you|it|i) (?:not )?(?:know|need|still need|missing|not know|want|left out|need"
            r" to know|want to know|forgotten)(?: to know)?.*|what is (?:missing|unknown|still"
            r" open|open|left to|not known|uncertain|still unknown).*|what"
            r" (?:else|more|further|other).*(?:need|want|know|tell|missing|find|check|ask).*|what"
            r" (?:should|do|must) (?:i|we) (?:find out|check|look|measure|still|ask|tell"
            r" you).*|unknowns?.*|open (?:question|point)s?.*|(?:have you |you )?(?:got )?any"
            r" (?:more |other |further )?(?:gap|question)s?.*|what have i (?:missed|forgotten|left"
            r" out|not (?:told|said|given)).*|(?:gaps|missing)$|anything (?:else|missing|i"
            r" (?:forgot|missed|have forgotten)).*)"
        ),
    ),
    (
        "incident",
        (
            r"(?:what (?:do|should|must|shall|would|can|could) (?:i|we|you|one|a leader|the"
            r" leader|somebody|they) (?:do|try|say) (?:when|if|once|after|about|with|now"
            r" that|for)\b(?P<rest>.*)|how (?:do|should|would|can|could) (?:i|we|you) (?:deal"
            r" with|handle|rescue|free|get|help|respond|cope with|manage|release|respond"
            r" to)\b(?P<rest2>.*)|what (?:is the )?(?:drill|procedure|response|plan|action)"
            r" (?:for|when|if|with)\b(?P<rest3>.*)|what is the (?:drill|procedure|response|action)"
            r" (?:for|when|if|with)\b(?P<rest4>.*)|(?:rehearse|practise|drill|scenario"
            r"|exercise)\b(?P<rest5>.*)|emergency$|incident$|accident$|something"
            r" (?:has |is |was )?(?:gone |went |going )?wrong.*|we have (?:got )?a problem.*|there"
            r" (?:has been|is|was) an (?:accident|incident|emergency)(?P<rest6>.*))"
        ),
    ),
    (
        "what would change",
        (
            r"(?:what (?:would|could|might|will|does|did|can|is|it would) (?:it take to"
            r" )?(?:change|alter|clear|make|sway|tip|fix|lift|remove|need to|have to|be needed"
            r" to|it take|get rid|help|flip|turn).*|how (?:can|could|do|would|might) (?:i|we|you)"
            r" (?:get|clear|change|fix|make|lift|remove|put|avoid|solve|sort).*|what needs to"
            r" (?:change|be|happen).*|what has to (?:change|be|happen).*|how sure .*|how firm .*|is"
            r" (?:that|it|this) (?:firm|certain|final|sure).*|what must change.*|under what .*|what"
            r" can i do about .*)"
        ),
    ),
    (
        "why not",
        (
            r"(?:why"
            r" (?:can|could|should|would|will|may|might|must|do|does|did|is|are|was|were|have|has)?"
            r" ?(?:not|it not|i not|we not|you not|that not|this not|they not)\b.*|why .*"
            r" not\b.*|how come .* not\b.*|how come not\b.*|what is wrong with .*|what is the"
            r" (?:matter|problem|trouble) with .*|what has .* got against .*|what do you have"
            r" against .*|what about .*|how about .*|any reason not .*|why rule out .*|why .* ruled"
            r" out.*|why reject .*|why .* rejected.*|could .* not do instead.*)"
        ),
    ),
    (
        "why",
        (
            r"(?:why\b.*|about (?:the|my|that|this) .*|how come.*|what makes (?:you|it|that).*|for"
            r" what reason.*|what is the reason.*|what are the reasons.*|on what"
            r" (?:basis|grounds).*|(?:the |your |some )?reasons?$|reasons? for .*|explain"
            r" (?:that|this|yourself|why|the (?!number|figure|sum|calc).*|your .*)|says who|what"
            r" (?:for|stops|rules|forbids|is stopping) .*|how do you (?:know|figure|work that|make"
            r" that).*|because$|justify .*)"
        ),
    ),
    (
        "explain number",
        (
            r"(?:(?:explain|where does|how (?:is|do|did|was)|show|what is|where do) (?:me )?(?:you"
            r" )?(?:get |work out |calculate |arrive at )?(?:the |that |this |those |your"
            r" )?(?:number|figure|sum|calc\w*|arithmetic|maths|working|force|load|time|length|kn"
            r"|margin).*|show"
            r" (?:me )?(?:the |your )?working.*|how (?:did|do) you (?:get|work out|calculate|arrive"
            r" at).*|where does (?:the |that )?[\d.]+.*|work it out for me.*|explain (?:the"
            r" )?(?:number|figure|sum|calc|[\d.]+).*)"
        ),
    ),
    (
        "sources",
        (
            r"(?:(?:what |which )?sources?(?: please)?$|(?:what|which|where) (?:are|is) (?:the"
            r" |your )?(?:source|reference|authority|evidence|book|rule come|rules come).*|where"
            r" (?:does|do|did) (?:that|this|it|the|these|those|you) ?(?:rule|rules|figure|advice)?"
            r" (?:come|get|read).*|who says.*|(?:show|list) (?:me )?(?:the |your"
            r" )?(?:source|reference)s?.*|references?$|according to (?:who|what).*|is there a"
            r" source.*|who (?:wrote|made|decided|came up with) .*|what standard .*|which standard"
            r" .*|which (?:book|document|guidance) .*|what do you base .*|says which .*)"
        ),
    ),
    (
        "export",
        (
            r"(?:export|save(?: (?:it|that|this|the case|the plan))? (?:as|to)|write"
            r" (?:it|that|this|a case|the case|a file)|save$|save (?:it|this|that)$)(?: .*)?"
        ),
    ),
    (
        "how much rope",
        (
            r"(?:how (?:much|many|long) (?:a |an )?(?:metre\w* |length\w* |m |of"
            r" )*(?:rope|line|lifeline|ladder|cord|tackle)\b.*|what (?:length|size) (?:of |is |do"
            r" )?.*(?:rope|line|ladder|cord).*|(?:rope|ladder|line|lifeline) length.*\?|how long"
            r" (?:a|must|should|does|do|is|are) (?:the |a"
            r" )?(?:rope|line|lifeline|ladder).*|(?:is|will) .* (?:long enough|reach).*|enough"
            r" (?:rope|ladder|line).*|what rope .*|which rope .*|how much ladder.*)"
        ),
    ),
    (
        "how long",
        (
            r"(?:how long\b.*|how much time.*|what time .*|how many"
            r" (?:hours|minutes)\b.*|(?:when|by when) (?:will|would|should|must|do|are|is)"
            r" (?:we|they|i|it|everyone|the last|the group|the).*|how"
            r" (?:quick|fast|slow)\w*.*|time(?: it takes| needed)?$|will (?:we|it|they) (?:make"
            r" it|be out|be back|take).*|(?:do|have) we (?:have|got)? ?(?:enough )?time.*|how soon"
            r" .*|latest (?:start|time).*)"
        ),
    ),
    (
        "what kit",
        (
            r"(?:what (?:kit|gear|tackle|equipment|stuff|hardware)\b.*|what"
            r" (?:do|should|must|shall|would) (?:i|we) (?:need to"
            r" )?(?:bring|take|pack|carry).*|what (?:do|does) (?:i|we) need (?:to"
            r" (?:bring|take|pack|carry)|for).*|(?:kit|gear|packing|tackle|equipment) ?list.*|which"
            r" (?:kit|gear|tackle) .*|what (?:to|needs) (?:pack|bring|take|packing).*|do (?:i|we)"
            r" need to (?:bring|take|pack) .*|what goes in the .*)"
        ),
    ),
    (
        "what can go wrong",
        (
            r"(?:what (?:can|could|might|will|would|is going to|is likely to|else can|if something)"
            r" (?:go|goes|be|happen|hurt|fail|kill|catch)\w*(?: wrong| out)?.*|(?:what (?:are|is)"
            r" )?(?:the|my|our) (?:main |biggest )?(?:risk|hazard|danger)s?.*|what (?:are|is) the"
            r" (?:risk|hazard|danger|worst|main (?:risk|hazard|danger)|biggest"
            r" (?:risk|hazard|danger)|threat|thing to watch|weak).*|(?:risk|hazard|danger)s?(?:"
            r" assessment)?$|any (?:risk|hazard|danger|trap|gotcha|pitfall)s?.*|what"
            r" (?:should|must|do) (?:i|we) (?:watch|look) (?:out|for).*|what"
            r" (?:worries|bothers|scares|concerns|should worry|should scare) (?:you|me|us).*|what"
            r" is (?:dangerous|risky|likely to go wrong).*|where are the"
            r" (?:danger|risk|trap)s?.*|what am i (?:missing|overlooking|not seeing).*|worst"
            r" case.*)"
        ),
    ),
    (
        "thing",
        (
            r"(?:(?:is|are|how is|how are|was|will|would|can|could|does|do)"
            r" (?:the|my|our|that|this|those|these) .*\b(?:ok|okay|alright|all right|any"
            r" good|good|safe|sound|solid|strong|enough|up to"
            r" it|fine|trustworthy|usable|hold|holding|do|passable|acceptable|reliable|bad"
            r"|dodgy)\b(?:"
            r" .{0,20})?$|(?:can|could|should) (?:i|we) (?:trust|rely on|use|hang off|go off|belay"
            r" off|rig off) (?:the|my|our|that|this) .*|what do you (?:think|make|reckon)"
            r" (?:of|to|about) (?:the|my|our|that|this) .*|(?:how|what) about"
            r" (?:the|my|our|that|this) .*)"
        ),
    ),
    (
        "safe",
        (
            r"(?:(?:is|will|would|are|am|was|be) (?:it|this|that|we|i|everything|all|the"
            r" (?:pitch|plan|rig|set ?up|place|whole thing|trip|drop|shaft|descent)|my \w+|our"
            r" \w+|the lot) (?:be )?(?:all |still |really |actually |basically |good |a"
            r" )?(?:safe|okay|ok|all right|alright|fine|go|to"
            r" go|good|sound|goer|on|clear|ready|set|legal"
            r" to|acceptable|sensible|wise|reasonable|too"
            r" (?:risky|dangerous|deep|wet)|dangerous|risky|possible|allowed|advisable|sketchy"
            r"|dodgy|reckless)\b.*|(?:can|may|could|should|shall|do|dare|might)"
            r" (?:we|i|they|the group|you|my group) (?:still |even |actually |safely |just"
            r" )?(?:go|do (?:it|this|that|the)|start|proceed|descend|run|carry on|continue|take"
            r" (?:them|the group|a group|novices|kids|children)|drop|rig (?:it|this)|be doing).*|go"
            r" or no.*|go no go.*|no go$|go$|are we"
            r" (?:good|go|on|ok|okay|safe|clear|set|ready).*|good to go.*|safe(?: to go|"
            r" enough)?$|ok to go.*|am i good .*|would you (?:go|do (?:it|this|that)|take).*|is"
            r" (?:it|that|this|there) a (?:go|problem|no go|stop|showstopper).*|do we go.*|can it"
            r" be done.*|any (?:stop|showstopper|reason to (?:stop|call it off))s?.*|is anything"
            r" (?:stopping|against).*|what (?:stops|forbids) (?:us|me)$|(?:should|shall|do)"
            r" (?:i|we) (?:bin it off|knock it on the head|pull the plug|call it off|cancel|bin"
            r" it|abort|turn back|worry|be worried).*)"
        ),
    ),
    (
        "where",
        (
            r"(?:where (?:does|do|should|shall|can|could|would|will|must|is|are|to|did|ought|would"
            r" you|might)"
            r" .*(?:go|hang|rig|put|tie|fix|fasten|attach|belay|best|belong|ladder|lifeline|it"
            r"|anchor|place|hung|clip|sit).*|where"
            r" to .*|where(?: then| now| exactly)?$|which"
            r" (?:anchor|bolt|point|one|side|thread|hanger|of (?:them|these|the)).*|what"
            r" (?:anchor|bolt|point) (?:do|should|shall|would|is|for|does|to).*|on which .*|off"
            r" which .*|what (?:do|should|shall|would|can) (?:i|we|you)"
            r" (?:hang|rig|tie|fix|attach|belay|put|clip|anchor|sling) .*|is (?:the )?.*"
            r" (?:best|better) (?:anchor|one|for the ladder).*|(?:best|better)"
            r" (?:anchor|place|spot).*|what does the ladder (?:go|hang).*|does the ladder"
            r" (?:go|hang).*|left or right.*|.{0,30}or .{0,30} for the ladder)"
        ),
    ),
    (
        "advise",
        (
            r"(?:what (?:should|shall|do|would|must|can|could|am|is|are|now|next|ought)"
            r" ?(?:i|we|you|one|the)? ?(?:to"
            r" )?(?:do|doing|advise|recommend|suggest|say|reckon|think|best|advice|plan|verdict"
            r"|answer|upshot|next|now|to"
            r" do|make of (?:it|that|this)|rig)?(?: (?:now|then|here|next|first|about"
            r" (?:it|this|that)|with (?:it|this|that|all that|them|the lot)|to do|for the"
            r" best|best|of (?:it|that|this|all that)|of that lot|i|we))*$|advise(?:"
            r" me)?.*|advice.*|what is (?:the |your"
            r" )?(?:advice|verdict|answer|plan|recommendation|upshot|result|best|conclusion|call"
            r"|view|opinion).*|(?:any"
            r" )?(?:recommendation|suggestion|thoughts|advice|verdict)s?.*|recommend.*|how"
            r" (?:should|would|do|shall|ought|can|could|to|best) ?(?:i|we|you|one)? ?(?:to"
            r" )?(?:rig|do (?:it|this|that)|run|go about|set (?:it|this)"
            r" up|tackle|approach|proceed|play|organise|hang|tie|attach|belay|lower|work)\b.*|how"
            r" to (?:rig|do|run|hang|tie).*|tell me what to do.*|what (?:say|think) you.*|what do"
            r" you (?:think|reckon|make|say|suggest|advise|recommend).*|help me"
            r" (?:rig|plan|decide|with).*|is (?:it|that|this|she|he|one|the \w+(?: \w+)?|my \w+(?:"
            r" \w+)?) (?:for the |a )?(?:scrap|knackered|done"
            r" for|finished|bin|usable|serviceable|still usable|useable|toast|had"
            r" it|shot|condemned|junk|write ?off|repairable|good for another|any good|past it|still"
            r" any good|ok to use|okay to use|safe to use|still ok|still good|good enough|fit for"
            r" use|bad|serious|that bad|a"
            r" fail).*|(?:keep|use|bin|chuck|retire|scrap|replace|junk|condemn)"
            r" (?:it|that|them|or\b.*|this).*|can (?:i|we|it|they|you) (?:still |be"
            r" )?(?:use|keep|save|repair|mend|trust|be used|be saved|be repaired|fix|go on"
            r" using|used|saved|repaired|mended)\b.*|should (?:i|we|it) (?:be"
            r" )?(?:bin|scrap|retire|keep|replace|use|chuck|retired|scrapped|binned|replaced|hang"
            r"|rig|tie|belay|condemn)\w*\b.*|do"
            r" (?:i|we) (?:need to )?(?:bin|scrap|retire|keep|replace|chuck|have to)\b.*|go"
            r" ahead.*|carry on$|continue$|your call$|over to you.*|answer(?:"
            r" please)?$|result$|what now.*|now what.*|what next.*|conclusion.*|summary of the"
            r" advice|plan$|verdict$|(?:does|would|will) it (?:pass|fail).*|pass or fail.*|is that"
            r" a (?:fail|pass|retire).*)"
        ),
    ),
)
PATTERNS = tuple(
    (kind, re.compile(_LEAD + "(?:" + pattern + ")(?![a-z0-9])")) for kind, pattern in _PATTERNS
)
TO_THE_END = frozenset(
    ("why", "why not", "what would change", "incident", "export", "explain number")
)

_OUTSIDE = (
    (
        "a doctor or the emergency service",
        (
            r".*\b(?:diagnos\w+|concuss\w+|painkiller\w*|paracetamol|ibuprofen|aspirin|tourniquet"
            r"|cpr|resuscitat\w*|splint\w*|medicine|medication|insulin|dose|inhaler|antibiotic\w*"
            r"|stitches|is"
            r" (?:it|her \w+|his \w+|the \w+) (?:broken|fractured|sprained|dislocated)|pulse|first"
            r" aid|bandage\w*|blood pressure|tetanus|heart attack|treat"
            r" (?:a|an|the|her|his|hypothermia|shock)|compressions)\b.*"
        ),
    ),
    (
        "a weather service and whoever knows the catchment",
        (
            r".*\b(?:(?:is it going to|will it|going to) (?:rain|snow|thaw|flood|be"
            r" (?:wet|dry|sunny|windy))|what (?:is|will) the (?:weather|forecast)|weather"
            r" (?:for|tomorrow|on|at|this)|(?:rain|weather) (?:radar|app)|chance of rain)\b.*"
        ),
    ),
    (
        "a lawyer or your insurer",
        (
            r".*\b(?:lawyer|solicitor|sue|sued|liable|liability|insur\w+|legal\w*|(?<!in"
            r" )law|court|negligen\w+|waiver\w*|disclaimer\w*|consent"
            r" form|indemnity|prosecut\w+)\b.*"
        ),
    ),
    (
        "a shop or the maker",
        (
            r".*\b(?:buy|purchase|order"
            r" (?:a|some|new)|price\w*|cost\w*|cheap\w*|shop\w*|sell\w*|brand\w*|make of|for"
            r" sale|discount|online|which model|best brand|supplier)\b.*"
        ),
    ),
    (
        "whoever runs the bookings",
        (
            r".*\b(?:(?<!log"
            r" )(?<!log-)book(?:ing|ed)?|reserv\w+|hotel|campsite|hut|minibus|parking|car"
            r" park|opening (?:times|hours)|ticket\w*|permit application|pub|lunch|cafe|tea"
            r" ?room|chippy|restaurant|train|bus|sat ?nav|directions to|how do i get"
            r" to|postcode|payment|invoice)\b.*"
        ),
    ),
    (
        "an instructor of that sport",
        (
            r".*\b(?:scuba|cave div\w+|diving|canyoning|canyon|via"
            r" ferrata|abseil\w*|ski(?:ing|s)?|kayak\w*|paraglid\w*|trad climb\w*|sport"
            r" climb\w*|boulder grade|lead climb\w*|mountain ?bik\w*|surf(?:ing)?|single rope"
            r" technique|srt|prusik\w* up|zip ?line|bungee|high ropes|sailing)\b.*"
        ),
    ),
    (
        "someone who knows; it is not about ladder pitches",
        (
            r".*\b(?:joke|poem|recipe|capital of|football|news|translate|song|stock"
            r" market|president|who won|essay|homework|meaning of life|write (?:me )?(?:a|an)"
            r" (?!case|file)\w+|who are you|are you (?:human|a robot|real|alive)|your name|love"
            r" you|star sign)\b.*"
        ),
    ),
)
OUTSIDE = tuple((to, re.compile(pattern)) for to, pattern in _OUTSIDE)


def intents_in(text: str):
    """Every (kind, match) that fits a normalised text from its first word, the likeliest first."""
    for kind, pattern in PATTERNS:
        match = pattern.match(text)
        if match:
            yield kind, match


def intent_in(text: str):
    """(kind, match) of what a normalised text asks for from its first word, or None."""
    return next(intents_in(text), None)


def outside_in(text: str):
    """Whom to ask about a text that is outside the job, or None."""
    return next((to for to, pattern in OUTSIDE if pattern.match(text)), None)
