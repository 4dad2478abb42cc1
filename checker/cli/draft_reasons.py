"""What the questions of ``rules draft`` are for, as it is told where somebody types why."""

PLACE = "The files are named after it, and every report says whose rules it went by. Write it as people say it."
EVENT = (
    "Ordinances say when they begin to bind, for instance for applications filed on or after a day. A job is "
    "judged by what was in force on the day of this event."
)
DOCUMENT = (
    "The model code that the state or the town has adopted. Only rules of documents that are adopted count here; "
    "name them one after the other. Type its letter, its name, or name and edition, as nec 2023."
)
EDITION = "Sections and numbers differ from one edition to the next. The ordinance that adopts the code names its year."
FROM_ADOPTED = (
    "The day on which this edition became law here, written as 2026-03-14. Older jobs keep the edition before."
)
ADOPTED_BY = "The rule or ordinance that adopts it, with its number. Findings name it as their authority."
ANOTHER = "A fuel gas code may be adopted too, and an older edition still counts for jobs that were filed under it."
AUTHORITY = "The office or body whose rules these are. Every finding says by whose authority it asks."
OWN_DOCUMENT = "The ordinance, code or handout in which the changes can be read. Findings cite it with its section."
BASIS = "A law can require; a usual practice advises and never corrects. What may come out of your rules depends on it."
WHAT = (
    "Take the sentences of your ordinance one by one, and say of each what it does. You can come back here for "
    "the next."
)
SECTION = "The section of your own document, as 14-31(b), so that an applicant can read it there."
FROM = "The first day, written as 2026-03-14. Left out, the change counts as long as the code that it changes."
UNTIL = "The last day on which it counts, written as 2026-12-31. Left out, it has no end."
REASON = (
    "One sentence on what the change is for. It is printed with the finding, and people keep a rule that they "
    "understand."
)
NUMBER = (
    "The number of the model code that your ordinance changes: a word of its title, as remote stop, or its "
    "section, as 445.18."
)
EXCEPTIONS = (
    "Exceptions of the model code come along with its number unless you say that they do not. Read your ordinance "
    "for it."
)
RULE = "The rule of the model code that is meant: its section, as 230.67, or a word of its title, as surge."
SHAPE = (
    "These are written for you. A rule of any other shape is written by hand into the layer once it is drafted: "
    "see Add a rule in MAINTAINERS.md, and the page of facts, schemas/facts.md."
)
PAPER = "A packet without this paper gets a correction. Ask only for what the ordinance or a written policy asks for."
OWN_TITLE = (
    "Reports and the list of papers print it so, as in: the signed notice to the neighbors. No paper of the list above "
    "may have the same title."
)
OWN_MEANS = "One sentence, printed with the paper, as: Form 7 of this office."
OWN_DUE = "A paper that is due later is listed for its stage and holds up nothing before."
OWN_NAME = (
    "Applicants list the paper by it in their files, so it is for ever: small letters, two or more words with hyphens, "
    "as notice-to-neighbors."
)
ONLY = (
    "The rule looks only where every condition that you name holds, and applies to nothing else. What is not in the "
    "list is written by hand under `when:` in the layer: see Add a rule in MAINTAINERS.md."
)
SHOWS = "What can be read on the paper itself. A finding names what is missing, in these words."
OF_A_KIND = "The rule looks at this and at nothing else. For two kinds of thing add the rule twice."
OF_SEVERAL = "A finding names whatever of these is not there. Take all that the ordinance asks for."
OF_A_NUMBER = "A number with its unit, as 10 ft: what is less is a correction."
SAYS = (
    "One sentence, printed with each finding of that rule. It changes no finding; what shall change is a change "
    "of a rule."
)
SITE = "The name that stands under `name:` in the site file; the permission holds for no other site."
PERMITTED = "One sentence, printed with the finding. The finding stays in the report and says what it would be without."
CONDITION = "What has to be done for it, in one sentence. It is printed, and a person has to look whether it is kept."
BY = "The office that decided, or who signed: a reader wants to know whom to ask."
ON = "The day of the decision, written as 2026-03-14. Reports print it."
