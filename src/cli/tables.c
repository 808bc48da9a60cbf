#include "cli/arguments.h"

#include "base/table.h"

enum {
    ON_FILES = VERB_BIT(VERB_CHECK) | VERB_BIT(VERB_PLAN) | VERB_BIT(VERB_NEED) | VERB_BIT(VERB_DRAW)
               | VERB_BIT(VERB_GATHER) | VERB_BIT(VERB_SHEET) | VERB_BIT(VERB_SHADES),
    ON_PAGES = VERB_BIT(VERB_PLAN) | VERB_BIT(VERB_NEED) | VERB_BIT(VERB_SHEET),
    ON_PLANS = ON_PAGES | VERB_BIT(VERB_CHECK) | VERB_BIT(VERB_DRAW),
    ON_SHEETS = VERB_BIT(VERB_SHEET),
    ON_DRAWINGS = VERB_BIT(VERB_DRAW),
    ON_SHADES = VERB_BIT(VERB_SHADES),
    ON_GATHERED = VERB_BIT(VERB_GATHER),
    ON_ALL = ON_FILES | VERB_BIT(VERB_EXPLAIN) | VERB_BIT(VERB_NEW) | VERB_BIT(VERB_NONE)
};

enum {
    TABLES = FORMAT_BIT(FORMAT_TEXT) | FORMAT_BIT(FORMAT_JSON) | FORMAT_BIT(FORMAT_CSV),
    SHEETS = FORMAT_BIT(FORMAT_TEXT) | FORMAT_BIT(FORMAT_JSON) | FORMAT_BIT(FORMAT_HTML) | FORMAT_BIT(FORMAT_PDF),
    FINDINGS = FORMAT_BIT(FORMAT_TEXT) | FORMAT_BIT(FORMAT_JSON),
    PICTURES = FORMAT_BIT(FORMAT_SVG) | FORMAT_BIT(FORMAT_PNG),
    SHADES = FINDINGS | PICTURES,
    PATTERNS = FORMAT_BIT(FORMAT_LAY)
};

#define VERBS(X)                                                                                                  \
    X(CHECK, "check", "FILE...", "say what is wrong with a file, and nothing else", 1, UINT32_MAX, FINDINGS)      \
    X(PLAN, "plan", "FILE...", "print the plan: which thread, how many turns, from where to where", 1,            \
      UINT32_MAX, TABLES)                                                                                         \
    X(NEED, "need", "FILE...", "print how much of each thread is needed", 1, UINT32_MAX, TABLES)                  \
    X(SHEET, "sheet", "FILE", "print the bench sheet: every step, to follow with both hands busy", 1, 1, SHEETS)  \
    X(DRAW, "draw", "FILE", "draw a rod as a picture", 1, 1, PICTURES)                                            \
    X(SHADES, "shades", "FILE", "say which threads lie between two, and in which order a fade goes over them", 1, \
      1, SHADES)                                                                                                  \
    X(GATHER, "gather", "FILE", "print one file that holds the file and all it uses", 1, 1, PATTERNS)             \
    X(EXPLAIN, "explain", "[CODE]", "explain a finding by its code; without a code, list all", 0, 1, 0)           \
    X(NEW, "new", "NAME", "write a small pattern to begin with", 1, 1, PATTERNS)

const Verb verb_table[VERB_COUNT] = {
#define X(name, ...) [VERB_##name] = {__VA_ARGS__},
    VERBS(X)
#undef X
};
_Static_assert(TABLE_ROWS(VERBS) == VERB_COUNT - 1, "every verb has its row; none has none");

const Option option_table[] = {
    {'o', "output", "FILE", "-o, --output FILE", ON_FILES,
     "write there instead of to standard output; a good file is never half overwritten"},
    {'F', "format", "FORMAT", "--format FORMAT", ON_PAGES | ON_DRAWINGS | ON_SHADES,
     "if left out, as the ending of -o says, else the first"},
    {'D', "depth", "DEPTH", "--depth DEPTH", ON_SHEETS,
     "of a text sheet: steps (the default); actions, one move of the hands each; or cards, a place in a few lines"},
    {'f', "from", "STEP", "--from STEP", ON_SHEETS, "the rest of a sheet, from this step on"},
    {'W', "measured", "STEP=WIDTH", "--measured S=W", ON_PAGES,
     "plan the rest again: at step S of the sheet the wrap measures W: 29=9.4mm, 29=25/32in"},
    {'H', "mishap", "WHAT", "--mishap WHAT", ON_PAGES,
     "go on after what went wrong in a step: \"14 broke after 5 turns\""},
    {'r', "record", "FILE", "--record FILE", ON_PLANS,
     "go on with the job from its record, as the page of its sheet saves it"},
    {'l', "learned", "FILE", "--learned FILE", ON_PLANS,
     "begin with what the record of another job teaches of the same threads"},
    {'x', "swap", "NAME=NAME", "--swap NAME=NAME", ON_PLANS,
     "with another thread, guide or blank: navy=plum; of a thread also a colour: navy=teal"},
    {'P', "paper", "PAPER", "--paper PAPER", ON_SHEETS, "a4 (the default) or letter, for a pdf"},
    {'V', "view", "VIEW", "--view VIEW", ON_DRAWINGS,
     "rod (the default), presentation (for a customer), side, unrolled, eye, or template"},
    {'E', "eyes", "EYES", "--eyes EYES", ON_DRAWINGS | ON_SHADES,
     "all (the default), or without some cones: protanopia, deuteranopia or tritanopia"},
    {'S', "scale", "N", "--scale N", ON_DRAWINGS,
     "how many times true size, of the whole rod how wide a page; 1 if left out, of eye 6"},
    {'w', "width", "PIXELS", "--width PIXELS", ON_DRAWINGS | ON_SHADES,
     "how wide a png is, 16 to 32767; 8 pixels a mm of the picture if left out"},
    {'T', "turn", "ANGLE", "--turn ANGLE", ON_DRAWINGS,
     "what faces you: how far round from the rod's line, such as 90 deg"},
    {'R', "rod", "NAME", "--rod NAME", ON_DRAWINGS, "which rod of the file: its title, or its number from 1"},
    {'s', "section", "NAME", "--section NAME", ON_SHEETS | ON_DRAWINGS,
     "of a rod of several sections this one alone, by the name of its blank"},
    {'B', "between", "A,B", "--between A,B", ON_SHADES,
     "from this thread to that: navy,foam; of a used file shop.navy; all threads if left out"},
    {'k', "kept", NULL, "--kept", ON_GATHERED,
     "with the turns that were chosen in place of `by: eye`, so that they stay"},
    {'I', NULL, "FOLDER", "-I FOLDER", ON_FILES, "look for used files there too; may be given several times"},
    {'J', "findings", "FORMAT", "--findings FORMAT", ON_FILES, "findings as text (the default) or json"},
    {'q', "quiet", NULL, "-q, --quiet", ON_FILES, "show errors only"},
    {'v', "verbose", NULL, "-v, --verbose", ON_FILES,
     "show every note, not one line for each rod; and say which file each `use` took"},
    {'X', "strict", NULL, "--strict", ON_FILES, "warnings are errors"},
    {'M', NULL, "D", "-MD", ON_FILES,
     "write OUTPUT.d for make: what was read; FILE.d if the result goes to no file"},
    {'M', NULL, "F", "-MF FILE", ON_FILES, "the same under this name"},
    {'h', "help", NULL, "-h, --help", ON_ALL, "this page; after a verb, its own"},
    {'n', "version", NULL, "--version", ON_ALL, "the version of the program"},
};
_Static_assert(sizeof option_table / sizeof *option_table == OPTION_COUNT, "as many options as are counted");
