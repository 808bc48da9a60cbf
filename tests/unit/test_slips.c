/* Slips of writing: each is told by one finding, whose edit makes of it what the builder meant; and that is sound.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "compilation.h"
#include "syntax/syntax.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST_TEXT = 6000 };

/* Where the slip stands: `@` in one of these. */
#define HEAD                                                                                                      \
    "edition 1\nlet first = 1 mm\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"           \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nguide ring { foot: 14 mm }\n"                                \
    "pattern trim(main: thread, span: length = 9 mm) { band span of main }\n"
#define ROD "rod \"A\" on tube {\n    at 20 cm length: 60 mm { band 40 turns of navy }\n}\n"
#define SHORT "thread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n" ROD
static const char declared[] = HEAD "@\n" ROD;
static const char whole[] = "@";
#define LAID HEAD "rod \"A\" on tube {\n    at 20 cm length: 60 mm {\n        @\n    }\n}\n"
static const char laid[] = LAID;
/* The same, for what is told, and read as what is meant. */
static const char read_on[] = LAID;
static const char placed[] = HEAD "rod \"A\" on tube {\n    @\n}\n";
static const char crossed[] = HEAD
    "rod \"A\" on tube {\n    at 20 cm length: 60 mm {\n        diamond crossings: 3 ends: 12 turns of navy {\n"
    "            @\n        }\n    }\n}\n";
static const char valued[] = HEAD "let tried = @\n" ROD;
static const char held[] = HEAD "bench { @ }\n" ROD;

#define WIDE(options) "diamond crossings: 3 " options " ends: 12 turns of navy { strand 1 of mist }"
#define FADED(options) "band 20 turns of navy\n        fade to mist " options "\n        band 20 turns of mist"

typedef struct Slip {
    const char *form;
    const char *code, *written, *meant; /* meant: NULL where nobody can know it, and no edit is offered */
} Slip;

static const Slip slips[] = {
    /* calls: what has no name stands first; a decimal has a point; a thread is not called */
    {laid, "T110", "trim(span: 8 mm, navy)", "trim(navy, span: 8 mm)"},
    {"edition 1\nthread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
     "pattern two(main: thread, part: ratio = 1/2) { band 40 turns of main { inlay 2 turns of main at: part } }\n"
     "rod \"A\" on tube { at 20 cm { @ } }\n",
     "T110", "two(navy, part: 0,66)", "two(navy, part: 0.66)"},
    {laid, "T101", "band 40 turns of navy (light)", "band 40 turns of navy"},
    {laid, "T101", FADED("(steps: 3)"), FADED("steps: 3")},
    {placed, "T115", "at 30 cm from: tip-top { band 40 turns of navy }",
     "at 30 cm from: tip { band 40 turns of navy }"},
    /* a line in the braces of a crosswrap that has a fault of its own is its strand */
    {laid, "T113", "diamond crossings: 3 ends: 12 turns of navy { thread 2 of navy }",
     "diamond crossings: 3 ends: 12 turns of navy { strand 2 of navy }"},
    /* options by other words, lists for what is written in another way */
    {read_on, "T107", "band 40 turns of navy { inlay 2 turns of mist spacing: 2 mm }",
     "band 40 turns of navy { inlay 2 turns of mist every: 2 mm }"},
    {declared, "T107", "thread foam { turns: 67 per cm, hex: #22346b }",
     "thread foam { turns: 67 per cm, colour: #22346b }"},
    {read_on, "T107", "chevron crossings: 3 direction: butt ends: 12 turns of navy { strand 1 of mist }",
     "chevron crossings: 3 pointing: butt ends: 12 turns of navy { strand 1 of mist }"},
    {laid, "T104", FADED("runs: [1/3, 2/2, 3/1]"), FADED("runs: [in 1 out 3, in 2 out 2, in 3 out 1]")},
    {laid, "T104", FADED("runs: [1-3, 2 - 2]"), FADED("runs: [in 1 out 3, in 2 out 2]")},
    {declared, "T104", "thread foam { turns: 67 per cm, preserver: required }",
     "thread foam { turns: 67 per cm, preserver: yes }"},
    {read_on, "T104", "gap 2 mm of nothing band 20 turns of navy", "gap 2 mm band 20 turns of navy"},
    {read_on, "T104", "gap 2 mm of bare band 20 turns of navy", "gap 2 mm band 20 turns of navy"},
    {read_on, "T104", "diamond crossings: 3 ends: [12 turns, navy] { strand 1 of mist }",
     "diamond crossings: 3 ends: 12 turns of navy { strand 1 of mist }"},
    {read_on, "T104", "band 40 turns of navy { inlay 2 turns of mist at: [1/4, 2/4, 3/4] }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/4  inlay 2 turns of mist at: 2/4  inlay 2 turns of mist at: 3/4 }"},
    {read_on, "T104", "band 2 mm of nothing band 20 turns of navy", "gap 2 mm band 20 turns of navy"},
    {laid, "T104", "band 100 % of navy", "band fill of navy"},
    {held, "T107", "tag: 6 in", "free: 6 in"},
    {read_on, "T107", FADED("across: 12 turns"), FADED("over: 12 turns")},
    /* words for units */
    {laid, "T012", "band 3 millimetres of navy", "band 3 mm of navy"},
    {laid, "T012", "band 3 millimetre of navy", "band 3 mm of navy"},
    {laid, "T012", "band 3 millimeter of navy", "band 3 mm of navy"},
    {laid, "T012", "band 3 millimeters of navy", "band 3 mm of navy"},
    {laid, "T012", "band 3 mms of navy", "band 3 mm of navy"},
    {laid, "T012", "band 1 cms of navy", "band 1 cm of navy"},
    {laid, "T012", "band 1 centimetre of navy", "band 1 cm of navy"},
    {laid, "T012", "band 1 centimetres of navy", "band 1 cm of navy"},
    {laid, "T012", "band 1 centimeter of navy", "band 1 cm of navy"},
    {laid, "T012", "band 1 centimeters of navy", "band 1 cm of navy"},
    {valued, "T012", "1 metre", "1 m"},
    {valued, "T012", "1 metres", "1 m"},
    {valued, "T012", "1 meter", "1 m"},
    {valued, "T012", "1 meters", "1 m"},
    {valued, "T012", "1/2 inch", "1/2 in"},
    {valued, "T012", "3 1/4 inches", "3 1/4 in"},
    {valued, "T012", "2 ins", "2 in"},
    {valued, "T012", "1 foot", "1 ft"},
    {valued, "T012", "2 feet", "2 ft"},
    {valued, "T012", "1 yard", "1 yd"},
    {valued, "T012", "2 yards", "2 yd"},
    {valued, "T012", "2 yds", "2 yd"},
    {laid, "T012", "band 12 wraps of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 wrap of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 winds of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 wind of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 rounds of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 round of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 rotations of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 trns of navy", "band 12 turns of navy"},
    {laid, "T012", "band 12 tunrs of navy", "band 12 turns of navy"},
    {laid, "T012", "band 3 nm of navy", "band 3 mm of navy"},
    {valued, "T012", "3 inchs", "3 in"},
    {valued, "T012", "3 degrees", "3 deg"},
    {valued, "T012", "3 degree", "3 deg"},
    {valued, "T012", "3 percent", "3 %"},
    {valued, "T012", "67 per mms", "67 per mm"},
    {valued, "T012", "67 per millimetre", "67 per mm"},
    {valued, "T012", "67 per millimetres", "67 per mm"},
    {valued, "T012", "67 per millimeter", "67 per mm"},
    {valued, "T012", "67 per millimeters", "67 per mm"},
    {valued, "T012", "67 per cms", "67 per cm"},
    {valued, "T012", "67 per centimetre", "67 per cm"},
    {valued, "T012", "67 per centimetres", "67 per cm"},
    {valued, "T012", "67 per centimeter", "67 per cm"},
    {valued, "T012", "67 per centimeters", "67 per cm"},
    {valued, "T012", "67 per metre", "67 per m"},
    {valued, "T012", "67 per metres", "67 per m"},
    {valued, "T012", "67 per meter", "67 per m"},
    {valued, "T012", "67 per meters", "67 per m"},
    {valued, "T012", "67 per inches", "67 per in"},
    {valued, "T012", "67 per ins", "67 per in"},
    {valued, "T012", "67 per foot", "67 per ft"},
    {valued, "T012", "67 per feet", "67 per ft"},
    {valued, "T012", "67 per yard", "67 per yd"},
    {valued, "T012", "67 per yards", "67 per yd"},
    {valued, "T012", "67 per yds", "67 per yd"},
    {valued, "T012", "3 furlongs", "3 mm"},
    {valued, "T012", "67 turns/cm", "67 turns per cm"},
    {valued, "T012", "67 turns / cm", "67 turns per cm"},
    /* numbers */
    {laid, "T005", "band 2,5 mm of navy", "band 2.5 mm of navy"},
    {valued, "T005", "12,75 mm", "12.75 mm"},
    /* words that begin, misspelt, or those of other people */
    {read_on, "T007", "bnad 20 turns of navy", "band 20 turns of navy"},
    {read_on, "T007", "wrap 20 turns of navy", "band 20 turns of navy"},
    {read_on, "T007", "space 2 mm  band 20 turns of navy", "gap 2 mm  band 20 turns of navy"},
    {read_on, "T007", "loop 2 { band 20 turns of navy }", "repeat 2 { band 20 turns of navy }"},
    {read_on, "T007", "each i in 1 to 2 { band 20 turns of navy }", "for i in 1 to 2 { band 20 turns of navy }"},
    {read_on, "T007", "when yes { band 20 turns of navy }", "if yes { band 20 turns of navy }"},
    {read_on, "T007", "set k = 12 turns\n        band k of navy", "let k = 12 turns\n        band k of navy"},
    {declared, "T007", "import \"std/trims\"", "use \"std/trims\""},
    {declared, "T007", "include \"std/trims\"", "use \"std/trims\""},
    {declared, "T007", "yarn foam { turns: 67 per cm }", "thread foam { turns: 67 per cm }"},
    {declared, "T007", "theread foam { turns: 67 per cm }", "thread foam { turns: 67 per cm }"},
    {declared, "T007", "patern plain() { band 20 turns of navy }", "pattern plain() { band 20 turns of navy }"},
    {declared, "T007", "eye other { foot: 14 mm }", "guide other { foot: 14 mm }"},
    /* the other way round, or a word missing */
    {laid, "T006", "band navy 20 turns", "band 20 turns of navy"},
    {laid, "T006", "band of navy", "band 20 turns of navy"},
    {laid, "T006", "band 20 turns navy", "band 20 turns of navy"},
    {laid, "T006", "band fill navy", "band fill of navy"},
    {laid, "T006", "band 20 turns of navy\n        fade mist steps: 3\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 3\n        band 20 turns of mist"},
    {laid, "T006", "band 20 turns of [navy mist]", "band 20 turns of [navy, mist]"},
    {laid, "T006", "band 20 turns of [navy, mist\n        band 20 turns of navy",
     "band 20 turns of [navy, mist]\n        band 20 turns of navy"},
    {laid, "T006", "trim(navy 9 mm)", "trim(navy, 9 mm)"},
    {laid, "T006", "trim(navy\n        band 20 turns of navy", "trim(navy)\n        band 20 turns of navy"},
    {laid, "T006", "band min(30 turns, 40 turns of navy", "band min(30 turns, 40 turns) of navy"},
    {laid, "T006", "for i 1 to 3 { band 20 turns of navy }", "for i in 1 to 3 { band 20 turns of navy }"},
    {laid, "T006", "let k 12 turns\n        band 20 turns of navy",
     "let k = 12 turns\n        band 20 turns of navy"},
    {read_on, "T006", "repeat 2 band 20 turns of navy }", "repeat 2 { band 20 turns of navy }"},
    {read_on, "T006", "if yes\n            band 20 turns of navy\n        }",
     "if yes {\n            band 20 turns of navy\n        }"},
    {placed, "T006", "20 cm { band 20 turns of navy }", "at 20 cm { band 20 turns of navy }"},
    {placed, "T006", "at 20 cm length 20 mm { band 20 turns of navy }",
     "at 20 cm length: 20 mm { band 20 turns of navy }"},
    {placed, "T006", "at 20 cm length = 20 mm { band 20 turns of navy }",
     "at 20 cm length: 20 mm { band 20 turns of navy }"},
    {crossed, "T006", "strand of navy", "strand 1 of navy"},
    {crossed, "T006", "strand 2 navy", "strand 2 of navy"},
    {declared, "T104", "about { title: Harbour }", "about { title: \"Harbour\" }"},
    {declared, "T006", "use std", "use \"std\""},
    {whole, "T011", "edition 2\n" SHORT, "edition 1\n" SHORT},
    {whole, "T011", "edition 1 mm\n" SHORT, "edition 1\n" SHORT},
    {whole, "T113", "edition 1\nedition 1\n" SHORT, "edition 1\n" SHORT},
    {whole, "T113", "edition 1\n" SHORT "edition 2\n", "edition 1\n" SHORT},
    {whole, "T006", "edition\n" SHORT, "edition 1\n" SHORT},
    {whole, "T006", "edition \"1\"\n" SHORT, "edition 1\n" SHORT},
    {held, "T006", "units mm", "units: mm"},
    {held, "T006", "bind = 6 turns", "bind: 6 turns"},
    {held, "T006", "bind 6 turns", "bind: 6 turns"},
    /* words of other people, and in another order (phrase_table.c) */
    {laid, "T006", "20 turns band of navy", "band 20 turns of navy"},
    {laid, "T006", "band of navy 20 turns", "band 20 turns of navy"},
    {laid, "T006", "20 turns of navy", "band 20 turns of navy"},
    {laid, "T007", "navy 20 turns", "band 20 turns of navy"},
    {laid, "T006", "fill of navy", "band fill of navy"},
    {laid, "T006", "band with 20 turns of navy", "band 20 turns of navy"},
    {laid, "T006", "band 20 turns of navy, mist", "band 20 turns of [navy, mist]"},
    {laid, "T006", "band 20 turns of navy, 3 mm of mist", "band 20 turns of navy\n        band 3 mm of mist"},
    {laid, "T006", "band 20 turns of navy,", "band 20 turns of navy"},
    {laid, "T006", "band 20 turns. of navy", "band 20 turns of navy"},
    {laid, "T006", "band twenty mm of navy", "band 20 mm of navy"},
    {laid, "T006", "band: 20 turns of navy", "band 20 turns of navy"},
    {laid, "T006", "band 20 turns of navy\n        fade from navy to mist steps: 3\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 3\n        band 20 turns of mist"},
    {laid, "T006", "band 20 turns of navy\n        fade navy to mist steps: 3\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 3\n        band 20 turns of mist"},
    {laid, "T006", "band 20 turns of navy\n        fade to mist in 3 steps\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 3\n        band 20 turns of mist"},
    {laid, "T012", "band 20 turns of navy\n        fade to mist 3 steps\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 3\n        band 20 turns of mist"},
    {laid, "T006", "band 20 turns of navy\n        fade to mist over 12 turns\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist over: 12 turns\n        band 20 turns of mist"},
    {laid, "T006", "band 20 turns of navy\n        fade to mist steps 3\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 3\n        band 20 turns of mist"},
    {laid, "T006", "fade fill of navy to mist steps: 3", "fade fill of [navy, mist] steps: 3"},
    {laid, "T006", "band 40 turns of navy { inlay 2 turns of mist at 1/2 }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }"},
    {laid, "T012", "repeat 2 times { band 20 turns of navy }", "repeat 2 { band 20 turns of navy }"},
    {laid, "T006", "repeat two times { band 20 turns of navy }", "repeat 2 { band 20 turns of navy }"},
    {laid, "T006", "if yes then { band 20 turns of navy }", "if yes { band 20 turns of navy }"},
    {laid, "T005", "for i in 1..2 { band 20 turns of navy }", "for i in 1 to 2 { band 20 turns of navy }"},
    {laid, "T007", "k = 12 turns\n        band 20 turns of navy",
     "let k = 12 turns\n        band 20 turns of navy"},
    {laid, "T006", "trim(navy, span = 9 mm)", "trim(navy, span: 9 mm)"},
    {laid, "T007", "trim navy, 9 mm", "trim(navy, 9 mm)"},
    {laid, "T007", "trim[navy]", "trim(navy)"},
    {laid, "T007", "underwrap { band 20 turns of navy }", "under { band 20 turns of navy }"},
    {crossed, "T012", "2 strands of navy", "strand 2 of navy"},
    {crossed, "T006", "fill of navy", "strand fill of navy"},
    {laid, "T006", "chevron 5 ends: 12 turns of navy { strand 1 of mist }",
     "chevron crossings: 5 ends: 12 turns of navy { strand 1 of mist }"},
    {placed, "T007", "ring at 20 cm { band fill of navy }", "at 20 cm guide: ring { band fill of navy }"},
    {placed, "T006", "at 10 cm to 20 cm { band fill of navy }", "at 10 cm until: 20 cm { band fill of navy }"},
    {placed, "T006", "at: 20 cm { band 20 turns of navy }", "at 20 cm { band 20 turns of navy }"},
    {placed, "T006", "at 20 cm ring { band fill of navy }", "at 20 cm guide: ring { band fill of navy }"},
    {declared, "T006", "thread: foam { turns: 67 per cm }", "thread foam { turns: 67 per cm }"},
    {declared, "T006", "thread \"foam\" { turns: 67 per cm }", "thread foam { turns: 67 per cm }"},
    {declared, "T006", "thread pale blue { turns: 67 per cm }", "thread pale_blue { turns: 67 per cm }"},
    {declared, "T006", "thread pale-blue { turns: 67 per cm }", "thread pale_blue { turns: 67 per cm }"},
    {declared, "T006", "thread foam 67 per cm", "thread foam { turns: 67 per cm }"},
    {declared, "T006", "guide other { foot: (16 mm, 16 mm) }", "guide other { foot: [16 mm, 16 mm] }"},
    {declared, "T006", "guide other { foot: 16 mm, 16 mm }", "guide other { foot: [16 mm, 16 mm] }"},
    {declared, "T006", "pattern two(thread main) { band 20 turns of main }",
     "pattern two(main: thread) { band 20 turns of main }"},
    {declared, "T006", "pattern two(main) { band 20 turns of main }",
     "pattern two(main: thread) { band 20 turns of main }"},
    {declared, "T006", "pattern two(edge = 8 turns) { band edge of navy }",
     "pattern two(edge: turns = 8 turns) { band edge of navy }"},
    {declared, "T006", "pattern foot-wrap() { band 20 turns of navy }",
     "pattern foot_wrap() { band 20 turns of navy }"},
    {declared, "T006", "blank other { 12 mm at 0 mm  at 100 cm: 4 mm }",
     "blank other { at 0 mm: 12 mm  at 100 cm: 4 mm }"},
    {declared, "T006", "use \"std/trims\" trims", "use \"std/trims\" as trims"},
    {whole, "T006", "edition: 1\n" SHORT, "edition 1\n" SHORT},
    {whole, "T113",
     "edition 1\nthread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
     "rod \"A\" on tube {\n    pattern p() { band 9 mm of navy }\n    at 20 cm { band 9 mm of navy }\n}\n",
     "edition 1\nthread navy { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
     "pattern p() { band 9 mm of navy }\nrod \"A\" on tube {\n    at 20 cm { band 9 mm of navy }\n}\n"},
    {whole, "T006",
     "edition 1\nthread pale_blue { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
     "rod \"A\" on tube {\n    at 20 cm {\n        band 20 turns of pale blue\n    }\n}\n",
     "edition 1\nthread pale_blue { turns: 67 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
     "rod \"A\" on tube {\n    at 20 cm {\n        band 20 turns of pale_blue\n    }\n}\n"},
    /* braces on neither side */
    {read_on, "T006", "mirror band 20 turns of navy", "mirror { band 20 turns of navy }"},
    {read_on, "T006", "over band 20 turns of navy", "over { band 20 turns of navy }"},
    {read_on, "T006", "repeat 2 trim(navy)", "repeat 2 { trim(navy) }"},
    {read_on, "T006", "for i in 1 to 2: band 20 turns of navy", "for i in 1 to 2 { band 20 turns of navy }"},
    {declared, "T006", "thread foam turns: 67 per cm", "thread foam { turns: 67 per cm }"},
    {declared, "T006", "blank other at 0 mm: 12 mm  at 100 cm: 4 mm",
     "blank other { at 0 mm: 12 mm  at 100 cm: 4 mm }"},
    {placed, "T006", "at 20 cm guide: ring trim(navy)", "at 20 cm guide: ring { trim(navy) }"},
    /* what nobody foresaw is tried: a word or sign taken out, put in, or exchanged */
    {laid, "T006", "band 20 turns of of navy", "band 20 turns of navy"},
    {laid, "T006", "band 20 turns Of navy", "band 20 turns of navy"},
    {laid, "T006", "band 20 turns off navy", "band 20 turns of navy"},
    {placed, "T006", "at 20 cm = { band 20 turns of navy }", "at 20 cm { band 20 turns of navy }"},
    {valued, "T006", "3 mm )", "3 mm"},
    /* comments, and signs of other notations */
    {read_on, "T003", "band 20 turns of navy # main", "band 20 turns of navy // main"},
    {read_on, "T003", "band 20 turns of navy -- main", "band 20 turns of navy // main"},
    {read_on, "T003", "band 20 turns of navy /* main */", "band 20 turns of navy // main "},
    {read_on, "T003", "band 20 turns /* how many */ of navy", "band 20 turns of navy // how many "},
    {laid, "T007", "note \"main\"\n        band 20 turns of navy", "// main\n        band 20 turns of navy"},
    {declared, "T003", "thread foam { turns: 67 per cm, colour: 22346b }",
     "thread foam { turns: 67 per cm, colour: #22346b }"},
    {declared, "T003", "thread foam { turns: 67 per cm, colour: 0x22346b }",
     "thread foam { turns: 67 per cm, colour: #22346b }"},
    /* numbers */
    {laid, "T005", "band 1 / 2 in of navy", "band 1/2 in of navy"},
    {laid, "T005", "band 1 1 / 2 in of navy", "band 1 1/2 in of navy"},
    {valued, "T005", "1 ft 14 in", "2 ft 2 in"},
    {valued, "T012", "1 ft 2 inches", "1 ft 2 in"},
    {valued, "T005", "12-mm", "12 mm"},
    {valued, "T005", "1O mm", "10 mm"},
    {valued, "T005", "1,250 mm", "1250 mm"},
    {valued, "T003", "5\u2032", "5'"},
    {valued, "T003", "5\u2033", "5\""},
    {valued, "T003", "0.5''", "0.5\""},
    {valued, "T012", "6 thou", "0.006 in"},
    {valued, "T012", "5 MM", "5 mm"},
    /* names */
    {declared, "T013", "thread band { turns: 67 per cm }", "thread my_band { turns: 67 per cm }"},
    {declared, "T013", "let fill = 3 mm", "let my_fill = 3 mm"},
    {declared, "T013", "pattern fade() { band 20 turns of navy }", "pattern my_fade() { band 20 turns of navy }"},
    {laid, "T013", "for on in 1 to 2 { band 20 turns of navy }", "for my_on in 1 to 2 { band 20 turns of navy }"},
    {declared, "T013", "use \"std/trims\" as size", "use \"std/trims\" as my_size"},
    {laid, "T101", "band 20 turns of nav", "band 20 turns of navy"},
    {laid, "T101", "band 20 turns of nxxy", "band 20 turns of navy"},
    {valued, "T101", "mean(3)", NULL},
    {laid, "T007", "gp 2 mm", NULL},
    {laid, "T007", "bxxd 20 turns of navy", "band 20 turns of navy"},
    {laid, "T007", "thread_of navy", NULL},
    {read_on, "T007", "fxde 60 turns of [navy, mist] over: 20 turns",
     "fade 60 turns of [navy, mist] over: 20 turns"},
    {held, "T107", "bid: 5 turns", "bind: 5 turns"},
    {held, "T107", "bindings: 5 turns", "bind: 5 turns"},
    {held, "T107", "FREE: 15 cm", "free: 15 cm"},
    {held, "T107", "frx: 15 cm, bind: 5 turns", "bind: 5 turns"},
    {valued, "T012", "3 fts", "3 ft"},
    {valued, "T012", "3 yrd", "3 yd"},
    {valued, "T012", "3 cn", "3 cm"},
    {laid, "T101", "band 20 turns of mit", "band 20 turns of mist"},
    {laid, "T101", "tirm(navy)", "trim(navy)"},
    {valued, "T101", "rond(2.5)", "round(2.5)"},
    {valued, "T101", "cont([navy])", "count([navy])"},
    {valued, "T101", "widht(3 turns, navy)", "width(3 turns, navy)"},
    {valued, "T101", "frist([1, 2])", "first([1, 2])"},
    {declared, "T102", "thread navy { turns: 60 per cm }", "thread navy_2 { turns: 60 per cm }"},
    {declared, "T102", "thread navy_2 { turns: 60 per cm }\nlet navy = 3",
     "thread navy_2 { turns: 60 per cm }\nlet navy_3 = 3"},
    {declared, "T102", "pattern two(a: count, a: count) { band 20 turns of navy }",
     "pattern two(a: count, a_2: count) { band 20 turns of navy }"},
    /* kinds */
    {laid, "T105", "band 20 of navy", "band 20 turns of navy"},
    {laid, "T105", "band 2.5 of navy", "band 2.5 mm of navy"},
    {laid, "T105", "band 40 turns of navy { inlay 1 of mist at: 1/2 }",
     "band 40 turns of navy { inlay 1 turn of mist at: 1/2 }"},
    {laid, "T105", "gap 2  band 30 turns of mist", "gap 2 mm  band 30 turns of mist"},
    {placed, "T105", "at 20 { band 20 turns of navy }", "at 20 cm { band 20 turns of navy }"},
    {declared, "T105", "thread foam { turns: 67 }", "thread foam { turns: 67 per cm }"},
    {declared, "T105", "thread foam { diameter: 0.15 }", "thread foam { diameter: 0.15 mm }"},
    {declared, "T105", "guide two { foot: [19, 17] }", "guide two { foot: [19 mm, 17 mm] }"},
    {declared, "T105", "guide two { foot: 19 }", "guide two { foot: 19 mm }"},
    {held, "T105", "flattest: 12", "flattest: 12 deg"},
    {held, "T105", "bind: 6", "bind: 6 turns"},
    {held, "T105", "free: 15.5", "free: 15.5 cm"},
    {held, "T104", "ridge: 3 turns", "ridge: 3"},
    {held, "T104", "holders: 3 mm", "holders: 3"},
    {held, "T104", "free: 90 turns", "free: 90 mm"},
    {held, "T104", "bind: 6 mm", "bind: 6 turns"},
    {held, "T104", "dress: 1", "dress: yes"},
    {held, "T104", "dress: 0", "dress: no"},
    {held, "T104", "dress: true", "dress: yes"},
    {held, "T104", "seal: y", "seal: yes"},
    {held, "T104", "seal: ja", "seal: yes"},
    {held, "T104", "seal: oui", "seal: yes"},
    {held, "T104", "seal: false", "seal: no"},
    {held, "T104", "seal: never", "seal: no"},
    {declared, "T104", "thread foam { turns: 67 per cm, colour: Red }",
     "thread foam { turns: 67 per cm, colour: red }"},
    {declared, "T104", "about { title: 3 }", "about { title: \"3\" }"},
    {laid, "T104", "band 20 turns of \"navy\"", "band 20 turns of navy"},
    {laid, "T104", "fade fill of navy steps: 3", "fade fill of [navy, mist] steps: 3"},
    {laid, "T104", "let k = 12\n        band k of navy", "let k = 12\n        band k turns of navy"},
    {laid, "T104", "let k = 5 + 7\n        band 5 + 7 of navy",
     "let k = 5 + 7\n        band (5 + 7) turns of navy"},
    {laid, "T109", "let k = 3 turns\n        gap k  band 20 turns of navy",
     "let k = 3 turns\n        gap k of navy  band 20 turns of navy"},
    {laid, "T104", "let k = 3 turns\n        repeat k { band 20 turns of navy }",
     "let k = 3 turns\n        repeat round(k / 1 turn) { band 20 turns of navy }"},
    {laid, "T104", "trim(navy, 3 turns)", "trim(navy, 3 mm)"},
    {laid, "T104", "trim([navy])", "trim(navy)"},
    {laid, "T104", "let both = [navy, mist]\n        trim(both)",
     "let both = [navy, mist]\n        trim(first(both))"},
    {laid, "T104", "band navy of 20 turns", "band 20 turns of navy"},
    {crossed, "T104", "strand spacer of navy  strand 2 of mist", "strand 1 of spacer(navy)  strand 2 of mist"},
    {crossed, "T104", "strand 3 turns of navy", "strand 3 of navy"},
    {valued, "T106", "3 mm + 2", "3 mm + 2 mm"},
    {valued, "T106", "2 + 3 mm", "2 mm + 3 mm"},
    {valued, "T106", "3 turns + 2", "3 turns + 2 turns"},
    {valued, "T106", "3 mm - 2 turns", "3 mm - width(2 turns, navy)"},
    {valued, "T106", "2 turns + 3 mm", "width(2 turns, navy) + 3 mm"},
    {valued, "T106", "3 deg < 4", "3 deg < 4 deg"},
    {valued, "T106", "3 mm * 2 mm", "3 mm * 2"},
    {valued, "T106", "3 mm / 2 deg", "3 mm / 2"},
    {valued, "T106", "navy + mist", "[navy, mist]"},
    {valued, "T106", "[3 mm, 2]", "[3 mm, 2 mm]"},
    {valued, "T106", "[3 turns, 2]", "[3 turns, 2 turns]"},
    {valued, "T106", "max(3 mm, 2)", "max(3 mm, 2 mm)"},
    {valued, "T106", "min(2 turns, 3)", "min(2 turns, 3 turns)"},
    /* options and arguments */
    {held, "T107", "tolerence: 0.4 mm", "tolerance: 0.4 mm"},
    {held, "T107", "Bind: 5 turns", "bind: 5 turns"},
    {held, "T107", "sparkle: 5 turns, bind: 5 turns", "bind: 5 turns"},
    {declared, "T107", "thread foam { diametre: 0.15 mm }", "thread foam { diameter: 0.15 mm }"},
    {read_on, "T107", "band fill of navy wieght: 2", "band fill of navy weight: 2"},
    {held, "T108", "bind: 5 turns, loop: 5 turns, bind: 6 turns", "bind: 5 turns, loop: 5 turns"},
    {declared, "T109", "guide other { gap: 3 mm }", "guide other { foot: 14 mm, gap: 3 mm }"},
    {declared, "T109", "guide other { }", "guide other { foot: 14 mm }"},
    {declared, "T109", "size Z { }", "size Z { diameter: 0.15 mm }"},
    {declared, "T109", "thread foam { tex: 24 }", "thread foam { tex: 24, fibre: nylon }"},
    {declared, "T109", "thread foam { turns: 67 per cm, colours: [#22346b, #dfe9ef] }",
     "thread foam { turns: 67 per cm, colours: [#22346b, #dfe9ef], period: 9 cm }"},
    {declared, "T109", "thread foam { turns: 67 per cm, period: 9 cm }", "thread foam { turns: 67 per cm }"},
    {laid, "T109", "band 20 turns of navy\n        fade to mist\n        band 20 turns of mist",
     "band 20 turns of navy\n        fade to mist steps: 4\n        band 20 turns of mist"},
    {laid, "T109", "fade fill of [navy, mist]", "fade fill of [navy, mist] steps: 4"},
    {laid, "T109", "band 40 turns of navy { inlay 2 turns of mist }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }"},
    {laid, "T109", "gap 3 turns  band 40 turns of mist", "gap 3 turns of navy  band 40 turns of mist"},
    {laid, "T109", "chevron ends: 12 turns of navy { strand 1 of mist }",
     "chevron crossings: 4 ends: 12 turns of navy { strand 1 of mist }"},
    {laid, "T109", "spiral ends: 12 turns of navy { strand 1 of mist }",
     "spiral turns: 4 turns ends: 12 turns of navy { strand 1 of mist }"},
    {laid, "T109", "chevron crossings: 4 { strand 1 of mist }",
     "chevron ends: 12 turns of mist crossings: 4 { strand 1 of mist }"},
    {laid, "T109", "chevron crossings: 4 ends: 12 turns { strand 1 of mist }",
     "chevron crossings: 4 ends: 12 turns of mist { strand 1 of mist }"},
    {read_on, "T113", "chevron crossings: 4 of navy ends: 12 turns of navy { strand 1 of mist }",
     "chevron crossings: 4 ends: 12 turns of navy { strand 1 of mist }"},
    {laid, "T110", "trim(navy, 9 mm, 3)", "trim(navy, 9 mm)"},
    {read_on, "T110", "trim(main: navy, main: mist)", "trim(main: navy)"},
    {laid, "T110", "trim(navy, spna: 8 mm)", "trim(navy, span: 8 mm)"},
    {laid, "T110", "trim(navy, wide: 8 mm)", "trim(navy, span: 8 mm)"},
    {laid, "T110", "trim()", "trim(main: navy)"},
    {laid, "T110", "trim(span: 8 mm)", "trim(span: 8 mm, main: navy)"},
    {valued, "T110", "round(2.5, 3)", "round(2.5)"},
    {valued, "T110", "round(a: 2.5)", "round(2.5)"},
    {valued, "T110", "width(3 turns)", "width(3 turns, navy)"},
    {valued, "T110", "width(3 turns, navy, mist)", "width(3 turns, navy)"},
    {valued, "T110", "max(a: 2, b: 3)", "max(2, 3)"},
    {laid, "T113", "inlay 20 turns of navy at: 1/2", "band 20 turns of navy"},
    {laid, "T113", "band 40 turns of navy { band 3 turns of mist }",
     "band 40 turns of navy { inlay 3 turns of mist at: 1/2 }"},
    {laid, "T113", "strand 20 of navy", "band 20 turns of navy"},
    {laid, "T113", "strand fill of navy", "band fill of navy"},
    {laid, "T113", "let k = 20\n        strand k of navy", "let k = 20\n        band (k) turns of navy"},
    {crossed, "T113", "strand 2 of navy\n            band 20 turns of navy", "strand 2 of navy"},
    {crossed, "T113", "strand 2 of navy\n            gap 2 mm", "strand 2 of navy"},
    {crossed, "T113", "strand 2 of navy\n            trim(navy)", "strand 2 of navy"},
    {crossed, "T113", "strand 2 of navy\n            repeat 2 { strand 1 of navy }", "strand 2 of navy"},
    {read_on, "T114", "band 20 turns of navy weight: 2", "band 20 turns of navy"},
    {read_on, "T114", "band 40 turns of navy { inlay 2 turns of mist at: 1/2 every: 5 mm }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }"},
    {read_on, "T114", "chevron crossings: 4 spacing: 9 mm ends: 12 turns of navy { strand 1 of mist }",
     "chevron crossings: 4 ends: 12 turns of navy { strand 1 of mist }"},
    {placed, "T114", "at 20 cm guide: ring length: 20 mm { band fill of navy }",
     "at 20 cm guide: ring { band fill of navy }"},
    {placed, "T114", "at 20 cm guide: ring toward: tip { band fill of navy }",
     "at 20 cm guide: ring { band fill of navy }"},
    {held, "T115", "left: but", "left: butt"},
    {held, "T115", "order: backwards", "order: source"},
    {held, "T115", "units: inch", "units: in"},
    {held, "T115", "ends: \"pins\"", "ends: pins"},
    {declared, "T115", "thread foam { tex: 24, fibre: nylom }", "thread foam { tex: 24, fibre: nylon }"},
    {declared, "T115", "thread foam { size: 3 }", "thread foam { size: A }"},
    {declared, "T115", "pattern wide(a: number) { band 20 turns of navy }",
     "pattern wide(a: count) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: integer) { band 20 turns of navy }",
     "pattern wide(a: count) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: int) { band 20 turns of navy }",
     "pattern wide(a: count) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: string) { band 20 turns of navy }",
     "pattern wide(a: thread) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: bool) { band 20 turns of navy }",
     "pattern wide(a: truth) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: boolean) { band 20 turns of navy }",
     "pattern wide(a: truth) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: width) { band 20 turns of navy }",
     "pattern wide(a: length) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: list) { band 20 turns of navy }",
     "pattern wide(a: threads) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: percent) { band 20 turns of navy }",
     "pattern wide(a: ratio) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: lenght) { band 20 turns of navy }",
     "pattern wide(a: length) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: lengt) { band 20 turns of navy }",
     "pattern wide(a: length) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: trns) { band 20 turns of navy }",
     "pattern wide(a: turns) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: agnle) { band 20 turns of navy }",
     "pattern wide(a: angle) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: rato) { band 20 turns of navy }",
     "pattern wide(a: ratio) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: coutn) { band 20 turns of navy }",
     "pattern wide(a: count) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: raet) { band 20 turns of navy }",
     "pattern wide(a: rate) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: coluor) { band 20 turns of navy }",
     "pattern wide(a: colour) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: thrad) { band 20 turns of navy }",
     "pattern wide(a: thread) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: threds) { band 20 turns of navy }",
     "pattern wide(a: threads) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: txet) { band 20 turns of navy }",
     "pattern wide(a: text) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: trth) { band 20 turns of navy }",
     "pattern wide(a: truth) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: color) { band 20 turns of navy }",
     "pattern wide(a: colour) { band 20 turns of navy }"},
    {declared, "T115", "pattern wide(a: thraed) { band 20 turns of navy }",
     "pattern wide(a: thread) { band 20 turns of navy }"},
    /* values */
    {valued, "T201", "3 mm / 0", "3 mm / 1"},
    {valued, "T201", "3 mm / 0 mm", "3 mm / 1 mm"},
    {valued, "T201", "3 turns / 0 turns", "3 turns / 1 turn"},
    {valued, "T201", "3 deg / 0 deg", "3 deg / 1 deg"},
    {valued, "T201", "3 turns / 0 per cm", "3 turns / max(0 per cm, 1 per cm)"},
    {valued, "T201", "3 mm / (first - 1 mm)", "3 mm / (max(first - 1 mm, 1 mm))"},
    {laid, "T204", "band 20.5 turns of navy", "band 21 turns of navy"},
    {laid, "T203", "repeat -1 { band 20 turns of navy }", "repeat 0 { band 20 turns of navy }"},
    {laid, "T203", "band 40 turns of navy { inlay 2 turns of mist at: 3/2 }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }"},
    {declared, "T209", "blank other { at 10 mm: 12 mm  at 0 mm: 4 mm }",
     "blank other { at 0 mm: 4 mm  at 10 mm: 12 mm }"},
    {declared, "T209", "blank other { at 0 mm: 12 mm  at 20 mm: 9 mm  at 30 mm: 8 mm  at 10 mm: 10 mm }",
     "blank other { at 0 mm: 12 mm  at 10 mm: 10 mm  at 20 mm: 9 mm  at 30 mm: 8 mm }"},
    {declared, "T209", "blank other { at 0 mm: 12 mm  at 20 mm: 9 mm  at 20 mm: 8 mm }",
     "blank other { at 0 mm: 12 mm  at 20 mm: 9 mm }"},
    {declared, "T203", "guide other { foot: 0 mm }", "guide other { foot: 14 mm }"},
    {declared, "T203", "guide other { foot: -14 mm }", "guide other { foot: 14 mm }"},
    {declared, "T203", "guide other { foot: [0 mm, 17 mm] }", "guide other { foot: [19 mm, 17 mm] }"},
    {declared, "T203", "guide other { foot: [19 mm, 0 mm] }", "guide other { foot: [19 mm, 17 mm] }"},
    {declared, "T203", "guide other { foot: [19 mm] }", "guide other { foot: 19 mm }"},
    {declared, "T203", "guide other { foot: [1 mm, 2 mm, 3 mm] }", "guide other { foot: [19 mm, 17 mm] }"},
    {declared, "T203", "guide other { foot: [19 mm, 17 mm], ramp: 18 mm }",
     "guide other { foot: [19 mm, 17 mm], ramp: 17 mm }"},
    {declared, "T203", "guide other { foot: [17 mm, 19 mm], ramp: 18 mm }",
     "guide other { foot: [17 mm, 19 mm], ramp: 17 mm }"},
    {declared, "T203", "guide other { foot: 14 mm, ramp: 15 mm }", "guide other { foot: 14 mm, ramp: 14 mm }"},
    {declared, "T203", "blank other { at 0 mm: 0.05 mm  at 90 cm: 0.1 mm }",
     "blank other { at 0 mm: 0.1 mm  at 90 cm: 0.1 mm }"},
    {declared, "T206", "thread foam { turns: 67 per cm, colours: [], period: 9 cm }",
     "thread foam { turns: 67 per cm, colours: [#22346b, #dfe9ef], period: 9 cm }"},
    {laid, "T203", WIDE("leads: [2, 0]"), WIDE("leads: [2, 1]")},
    {laid, "T203", WIDE("leads: [0, 2]"), WIDE("leads: [2, 1]")},
    {laid, "T203", WIDE("leads: [9, 1]"), WIDE("leads: [2, 1]")},
    {laid, "T203", WIDE("leads: [1, 9]"), WIDE("leads: [2, 1]")},
    {laid, "T203", WIDE("leads: [1]"), WIDE("leads: [2, 1]")},
    {laid, "T203", WIDE("leads: [1, 2, 3]"), WIDE("leads: [2, 1]")},
    {laid, "T203", WIDE("facing: 3"), WIDE("facing: 2")},
    {laid, "T203", WIDE("facing: 0"), WIDE("facing: 1")},
    {laid, "T203", WIDE("leads: [2, 1] facing: 4"), WIDE("leads: [2, 1] facing: 3")},
    {laid, "T203", WIDE("starts: 0"), WIDE("starts: 1")},
    {laid, "T203", "diamond crossings: 0 ends: 12 turns of navy { strand 1 of mist }",
     "diamond crossings: 1 ends: 12 turns of navy { strand 1 of mist }"},
    {crossed, "T203", "strand 0 of mist", "strand 1 of mist"},
    {crossed, "T114", "strand 1 of navy  strand fill of mist  strand fill of navy",
     "strand 1 of navy  strand fill of mist  strand 4 of navy"},
    {laid, "T203", FADED("runs: [in 0 out 0]"), FADED("runs: [in 1 out 1]")},
    {laid, "T203", FADED("runs: [in -1 out 3]"), FADED("runs: [in 1 out 1]")},
    {laid, "T203", FADED("runs: [in 3 out -1]"), FADED("runs: [in 1 out 1]")},
    {laid, "T203", FADED("runs: [in 10000001 out 1]"), FADED("runs: [in 1 out 1]")},
    {laid, "T203", FADED("runs: [in 1 out 10000001]"), FADED("runs: [in 1 out 1]")},
    {laid, "T206", FADED("runs: []"), FADED("runs: [in 1 out 2, in 2 out 1]")},
    {laid, "T203", FADED("steps: 0"), FADED("steps: 1")},
    {laid, "T204", FADED("over: 20.4 turns"), FADED("over: 20 turns")},
    {laid, "T203", "band 40 turns of navy { inlay 2 turns of mist at: 1.1 }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }"},
    {laid, "T203", "band 40 turns of navy { inlay 2 turns of mist at: -0.1 }",
     "band 40 turns of navy { inlay 2 turns of mist at: 1/2 }"},
    {declared, "T208", "thread foam { }", "thread foam { size: A }"},
    {declared, "T208", "thread foam { colour: #dfe9ef }", "thread foam { size: A, colour: #dfe9ef }"},
};

static void put_into(char *text, const char *form, const char *slip)
{
    const char *at = strchr(form, '@');
    snprintf(text, LONGEST_TEXT, "%.*s%s%s", (int)(at - form), form, slip, at + 1);
}

static Compilation *compiled(const char *text)
{
    static const char used[] = "edition 1\nsize A { diameter: 0.15 mm }\n";
    Compilation *made = compilation_new(0);
    assert_non_null(made);
    turnlay_give(made, "tried.lay", text, strlen(text));
    while (turnlay_want(made).path)
        turnlay_give(made, "used.lay", used, strlen(used));
    assert_int_not_equal(turnlay_finish(made), TURNLAY_OUT_OF_MEMORY);
    return made;
}

static const Finding *first_error(const Compilation *made)
{
    for (uint32_t i = 0; i < made->findings.list.count; i++)
        if (made->findings.list.items[i].severity == SEVERITY_ERROR)
            return &made->findings.list.items[i];
    return NULL;
}

static int wrong;

static void say_wrong(const Slip *slip, const char *what, const char *more)
{
    print_error("%s\n        %s: %s\n", slip->written, what, more);
    wrong++;
}

static void check_meant(const Slip *slip, const char *meant)
{
    Compilation *made = compiled(meant);
    const Finding *left = first_error(made);
    if (left)
        say_wrong(slip, "what is meant has a fault", left->message);
    turnlay_free(made);
}

static void without_blanks(char *text)
{
    char *out = text;
    for (const char *at = text; *at; at++)
        if (*at != ' ' && *at != '\n')
            *out++ = *at;
    *out = 0;
}

/* A layer with a fault is left out of the plan, and knows which fault that is; one that is read on is whole. */
static void check_marked(const Slip *slip, const Compilation *made, const Finding *finding)
{
    if (slip->form != laid && slip->form != crossed && slip->form != read_on)
        return;
    const Rod *rod = &made->job->rods[0];
    Cause cause = rod->place_count ? rod->places[0].layers[0].cause : rod->cause;
    if (cause != (slip->form == read_on ? CAUSE_NONE : finding->number))
        say_wrong(slip, "the layer does not name its fault", finding->message);
}

/* blanks: whether they are of no account. */
static void check_slip(const Slip *slip, bool blanks)
{
    char text[LONGEST_TEXT], mended[LONGEST_TEXT], meant[LONGEST_TEXT];
    put_into(text, slip->form, slip->written);
    Compilation *made = compiled(text);
    const Finding *finding = first_error(made);
    if (!finding)
        say_wrong(slip, "no error", "");
    else if (strcmp(finding_code_text(finding->code), slip->code) != 0 || made->findings.errors != 1)
        say_wrong(slip, finding_code_text(finding->code), finding->message);
    else if (!slip->meant && finding->has_edit)
        say_wrong(slip, "an edit", finding->edit.text);
    else if (slip->meant && !finding->has_edit)
        say_wrong(slip, "no edit", finding->mend);
    else if (slip->meant) {
        check_marked(slip, made, finding);
        sprintf(mended, "%.*s%s%s", (int)finding->edit.span.start, text, finding->edit.text,
                text + finding->edit.span.end);
        put_into(meant, slip->form, slip->meant);
        if (blanks) {
            check_meant(slip, mended);
            without_blanks(mended);
            without_blanks(meant);
        }
        if (strcmp(mended, meant) != 0)
            say_wrong(slip, "mended", mended);
        else if (!blanks)
            check_meant(slip, meant);
    }
    turnlay_free(made);
}

/* --- braces --- */

#define START                                                                                                     \
    "edition 1\nthread navy { turns: 67 per cm }\nthread mist { turns: 67 per cm }\n"                             \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
#define BAND_ALONE "band 40 turns of navy"
#define BAND BAND_ALONE "\n"
#define INLAID "band 40 turns of navy {\n inlay 2 turns of mist at: 1/2\n"
#define ONE "rod \"A\" on tube {\n"
#define AT "at 20 cm {\n"
#define AT_ROOM "at 20 cm length: 60 mm {\n"
#define THEN "at 40 cm {\n"

/* A brace missing or one too many; blanks and new lines are of no account. */
static const Slip brace_slips[] = {
    /* missing at the end, before a declaration, a rod, a place, a layer, a band */
    {whole, "T008", START ONE AT BAND "}\n", START ONE AT BAND "}\n}"},
    {whole, "T008", START ONE AT BAND, START ONE AT BAND "}\n}"},
    {whole, "T008", START "pattern p() {\n" BAND ONE AT BAND "}\n}\n",
     START "pattern p() {\n" BAND "}" ONE AT BAND "}\n}\n"},
    {whole, "T008", START "guide ring { foot: 14 mm\n" ONE AT BAND "}\n}\n",
     START "guide ring { foot: 14 mm }" ONE AT BAND "}\n}\n"},
    {whole, "T008", START "bench { bind: 6 turns\nthread foam { turns: 67 per cm }\n" ONE AT BAND "}\n}\n",
     START "bench { bind: 6 turns }thread foam { turns: 67 per cm }\n" ONE AT BAND "}\n}\n"},
    {whole, "T008", START ONE AT BAND "}\n" ONE AT BAND "}\n}\n", START ONE AT BAND "}\n}" ONE AT BAND "}\n}\n"},
    {whole, "T008", START ONE AT BAND ONE AT BAND "}\n}\n", START ONE AT BAND "}}" ONE AT BAND "}\n}\n"},
    {whole, "T008", START ONE AT BAND "thread foam { turns: 67 per cm }\n",
     START ONE AT BAND "}}thread foam { turns: 67 per cm }\n"},
    {whole, "T008", START ONE AT BAND THEN BAND "}\n}\n", START ONE AT BAND "}" THEN BAND "}\n}\n"},
    {whole, "T008", START ONE AT "repeat 2 {\n" BAND THEN BAND "}\n}\n",
     START ONE AT "repeat 2 {\n" BAND "}}" THEN BAND "}\n}\n"},
    /* behind braces that were deeper, and are closed */
    {whole, "T008",
     START ONE AT "under {\nif yes {\n" BAND "}\n}\n}\n"
                  "at 40 cm {\nunder {\n" BAND "at 60 cm {\n" BAND "}\n}\n",
     START ONE AT "under {\nif yes {\n" BAND "}\n}\n}\n"
                  "at 40 cm {\nunder {\n" BAND "}}at 60 cm {\n" BAND "}\n}\n"},
    {whole, "T008", START ONE AT "under {\n" BAND "over {\n" BAND "}\n}\n}\n",
     START ONE AT "under {\n" BAND "} over {\n" BAND "}\n}\n}\n"},
    {whole, "T008", START ONE AT "over {\n" BAND "over {\n" BAND "}\n}\n}\n",
     START ONE AT "over {\n" BAND "} over {\n" BAND "}\n}\n}\n"},
    {whole, "T008", START ONE AT INLAID BAND "}\n}\n", START ONE AT INLAID "}" BAND "}\n}\n"},
    {whole, "T008", START ONE AT INLAID "gap 2 mm\n" BAND "}\n}\n",
     START ONE AT INLAID "} gap 2 mm\n" BAND "}\n}\n"},
    {whole, "T008", START ONE AT INLAID "fade to mist steps: 3\nband 20 turns of mist }\n}\n",
     START ONE AT INLAID "} fade to mist steps: 3\nband 20 turns of mist }\n}\n"},
    {whole, "T008",
     START ONE AT_ROOM "diamond crossings: 3 ends: 12 turns of navy {\n strand 2 of mist\n at 40 cm {\n" BAND
                       "}\n}\n",
     START ONE AT_ROOM "diamond crossings: 3 ends: 12 turns of navy {\n strand 2 of mist\n }} at 40 cm {\n" BAND
                       "}\n}\n"},
    {whole, "T008",
     START ONE AT_ROOM "diamond crossings: 3 ends: 12 turns of navy {\n strand 2 of mist\n }\n at 40 cm {\n" BAND
                       "}\n}\n",
     START ONE AT_ROOM "diamond crossings: 3 ends: 12 turns of navy {\n strand 2 of mist\n }\n } at 40 cm {\n" BAND
                       "}\n}\n"},
    /* open twice */
    {whole, "T008", START ONE AT "{\n" BAND "}\n}\n", START ONE AT BAND "}\n}\n"},
    {whole, "T008", START "guide ring {{ foot: 14 mm }\n" ONE AT BAND "}\n}\n",
     START "guide ring { foot: 14 mm }\n" ONE AT BAND "}\n}\n"},
    {whole, "T008", START ONE "{" AT BAND "}\n}\n", START ONE AT BAND "}\n}\n"},
    /* too many at the end, or too early */
    {whole, "T009", START ONE AT BAND "}\n}\n}\n", START ONE AT BAND "}\n}\n"},
    {whole, "T009", START "}\n" ONE AT BAND "}\n}\n", START ONE AT BAND "}\n}\n"},
    {whole, "T009", START "pattern p() {\n" BAND "}\n}\n" ONE AT BAND "}\n}\n",
     START "pattern p() {\n" BAND "}\n" ONE AT BAND "}\n}\n"},
    {whole, "T009", START ONE AT BAND "}\n}\n" THEN BAND "}\n}\n", START ONE AT BAND "}\n" THEN BAND "}\n}\n"},
    {whole, "T009", START "pattern p() {\n" BAND "}\n" BAND "}\n" ONE AT BAND "}\n}\n",
     START "pattern p() {\n" BAND BAND "}\n" ONE AT BAND "}\n}\n"},
    {whole, "T009", START ONE AT BAND "}\n" BAND "}\n}\n", START ONE AT BAND BAND "}\n}\n"},
    {whole, "T009", START "pattern p() { " BAND "}\n" ONE AT BAND "}\np()\n}\n}\n",
     START "pattern p() { " BAND "}\n" ONE AT BAND "p()\n}\n}\n"},
    {whole, "T009", START "blank other { at 0 mm: 12 mm }\n at 100 cm: 4 mm }\n" ONE AT BAND "}\n}\n",
     START "blank other { at 0 mm: 12 mm at 100 cm: 4 mm }\n" ONE AT BAND "}\n}\n"},
    {whole, "T009", START "bench { bind: 6 turns }\n loop: 5 turns }\n" ONE AT BAND "}\n}\n",
     START "bench { bind: 6 turns loop: 5 turns }\n" ONE AT BAND "}\n}\n"},
    /* one too many at the end: what closes before it, with more behind, closes rightly */
    {whole, "T009", START ONE AT BAND "}\n" THEN BAND "}\n}\n}\n", START ONE AT BAND "}\n" THEN BAND "}\n}\n"},
    {whole, "T009", START "pattern p() {\n" BAND "}\nlet a = 1\n" ONE AT BAND "}\n}\n}\n",
     START "pattern p() {\n" BAND "}\nlet a = 1\n" ONE AT BAND "}\n}\n"},
    {whole, "T009", START ONE AT "repeat 2 {\n" BAND "}\n" BAND "}\n}\n}\n",
     START ONE AT "repeat 2 {\n" BAND "}\n" BAND "}\n}\n"},
    {whole, "T009", START ONE AT INLAID "}\n" BAND "}\n" THEN "under {\n" BAND "}\nover {\n" BAND "}\n}\n}\n}\n",
     START ONE AT INLAID "}\n" BAND "}\n" THEN "under {\n" BAND "}\nover {\n" BAND "}\n}\n}\n"},
    {whole, "T009",
     START "guide ring { foot: 14 mm }\nbench { bind: 6 turns }\n" ONE AT BAND "}\n}\n" ONE AT BAND "}\n}\n}\n",
     START "guide ring { foot: 14 mm }\nbench { bind: 6 turns }\n" ONE AT BAND "}\n}\n" ONE AT BAND "}\n}\n"},
    /* in the braces of a used file everything stands as in a file of its own */
    {whole, "T008",
     "edition 1\nuse \"shop\" {\nedition 1\nthread foam { turns: 67 per cm\nsize Z { diameter: 0.15 mm }\n}\n"
     "let width = 3 mm\n",
     "edition 1\nuse \"shop\" {\nedition 1\nthread foam { turns: 67 per cm }size Z { diameter: 0.15 mm }\n}\nlet width = 3 mm\n"},
    {whole, "T008",
     "edition 1\nuse \"shop\" as shop {\nedition 1\npattern p(t: thread) {\nband 40 turns of t\n"
     "thread foam { turns: 67 per cm }\n}\nlet width = 3 mm\n",
     "edition 1\nuse \"shop\" as shop {\nedition 1\npattern p(t: thread) {\nband 40 turns of t\n}"
     "thread foam { turns: 67 per cm }\n}\nlet width = 3 mm\n"},
    /* missing where a block begins */
    {whole, "T006", START ONE "at 20 cm\n" BAND "}\n}\n", START ONE "at 20 cm {\n" BAND "}\n}\n"},
    {whole, "T006", START "pattern p()\n" BAND "}\n" ONE AT BAND "}\n}\n",
     START "pattern p() {\n" BAND "}\n" ONE AT BAND "}\n}\n"},
    {whole, "T006", START "rod \"A\" on tube\n" AT BAND "}\n}\n", START ONE AT BAND "}\n}\n"},
    {whole, "T006", START ONE AT "repeat 2\n" BAND "}\n}\n}\n", START ONE AT "repeat 2 {\n" BAND "}\n}\n}\n"},
    {whole, "T006", START "pattern p() { " BAND "}\n" ONE "at 20 cm\np()\n}\n}\n",
     START "pattern p() { " BAND "}\n" ONE AT "p()\n}\n}\n"},
};

static void test_braces(void **state)
{
    (void)state;
    wrong = 0;
    for (unsigned i = 0; i < sizeof brace_slips / sizeof *brace_slips; i++)
        check_slip(&brace_slips[i], true);
    assert_int_equal(wrong, 0);
}

static void test_slips_become_what_was_meant(void **state)
{
    (void)state;
    wrong = 0;
    for (unsigned i = 0; i < sizeof slips / sizeof *slips; i++)
        check_slip(&slips[i], false);
    assert_int_equal(wrong, 0);
}

/* Not an error: edition 1 is taken. */
static void test_edition_left_out(void **state)
{
    (void)state;
    Compilation *made = compiled("// a comment\n" SHORT);
    assert_int_equal(made->findings.errors, 0);
    assert_int_equal(made->findings.list.items[0].code, FINDING_EDITION_MISSING);
    assert_int_equal(made->findings.list.items[0].edit.span.start, 0);
    assert_int_equal(made->findings.list.items[0].edit.span.end, 0);
    assert_string_equal(made->findings.list.items[0].edit.text, "edition 1\n");
    turnlay_free(made);
    made = compiled("edition 1\n" SHORT);
    assert_int_equal(made->findings.list.count, 0);
    turnlay_free(made);
}

/* --- reading on --- */

/* The codes of all errors, in the order of the text. */
static void check_codes(const char *text, const char *codes)
{
    char got[200] = "";
    Compilation *made = compiled(text);
    for (uint32_t i = 0; i < made->findings.list.count; i++)
        if (made->findings.list.items[i].severity == SEVERITY_ERROR)
            sprintf(got + strlen(got), "%s%s", *got ? " " : "",
                    finding_code_text(made->findings.list.items[i].code));
    turnlay_free(made);
    assert_string_equal(got, codes);
}

static void test_missing_braces_hide_nothing(void **state)
{
    (void)state;
    check_codes("edition 1\nthread navy { turn: 67 per cm }\nblank tube at 0 mm: 12 mm  at 100 cm: 4 mm\n"
                "guide ring { foot: 14 }\nrod \"A\" on tube {\n    at 20 cm { band 20 of navy }\n"
                "    at 40 cm guide: ring band fil of navy\n}\n",
                "T107 T006 T105 T105 T006 T101");
    /* set in farther than its header, a block needs no brace to be known */
    check_codes(
        "edition 1\nblank tube\n    at 0 mm: 12 mm\n    at 100 cm: 4\nthread navy { turns: 67 per cm }\n" ROD,
        "T006 T105");
    /* on one line a } is that of a brace opened there, whatever the rest of the file lacks */
    check_codes(START "rod \"A\" on tube at 10 cm { " BAND_ALONE
                      " }\nlet z = 1\nrod \"B\" on tube { at 10 cm " BAND_ALONE " }\n"
                      "rod \"C\" on tube { at 10 cm { repeat 1 " BAND_ALONE
                      " } }\n}\nlet a = 20 +\nguide g { foot: 14 }\n",
                "T006 T006 T006 T009 T006 T105");
    check_codes(HEAD "rod \"A\" on tube {\n    at 20 cm length: 60 mm\n        repeat 2\n"
                     "            band 20 of navy\n        band 20 turns of nav\n}\n",
                "T006 T006 T105 T101");
    /* a } too many belongs to one brace that is missing, not to the next one as well: none is left open then */
    check_codes(START ONE "series from: tip at 3 cm " BAND_ALONE " }\nat 40 cm over " BAND_ALONE " }\n}\n",
                "T006 T006 T006");
}

/* A careful reading finds no fault with what the quick one can read: all that is watched for is watched for beside
 * it. */
static void test_sound_texts_are_read_alike(void **state)
{
    (void)state;
    static const char *const sound[] = {
        "fade to mist over: 3 mm  band 20 turns of mist",
        "under { band fill of navy } over { band fill of mist }",
        "band 20 turns of navy trim(mist)",
        "if first == 1 mm { trim(navy) } else if yes { trim(mist) } else { trim(navy) }",
        "band 20 turns of navy { for i in 1 to 2 { inlay 1 turn of mist at: i / 3 } } band 9 mm of mist weight: 2",
        "chevron crossings: 3 starts: 2 ends: 2 mm of navy { let n = 2 strand n of mist strand fill of navy }",
        "let k = 3 - -2 band k turns of navy",
        "let k = 3 mm * 2-1/2 in band 20 turns of navy",
        "repeat count([navy, mist]) { gap 2 mm band 20 turns of navy }",
        "require not (1 < 2), \"so\" mirror { trim(navy) }",
    };
    for (size_t i = 0; i < sizeof sound / sizeof *sound; i++) {
        char text[LONGEST_TEXT], more[LONGEST_TEXT + 4];
        put_into(text, laid, sound[i]);
        snprintf(more, sizeof more, "%s\n}\n", text);
        Compilation *quick = compiled(text), *careful = compiled(more);
        if (careful->findings.errors != quick->findings.errors + 1)
            print_error("%s: %s\n", sound[i], careful->findings.list.items[0].message);
        assert_int_equal(careful->findings.errors, quick->findings.errors + 1);
        turnlay_free(quick);
        turnlay_free(careful);
    }
}

/* --- lengths as they are written on rulers --- */

static void test_lengths_on_rulers(void **state)
{
    (void)state;
    static const char *const equal[][2] = {
        {"7 ft 2 in", "86 in"},        {"6'6\"", "78 in"},
        {"6' 6 1/2\"", "78.5 in"},     {"6 ft 6-1/2 in", "78.5 in"},
        {"4'-3\"", "51 in"},           {"1-1/2 in", "1.5 in"},
        {"1/2\"", "0.5 in"},           {"5'", "60 in"},
        {"0.5\"", "12.7 mm"},          {"-1-1/2 in", "0 in - 1.5 in"},
        {"3 in * 2-1/2 in", "5.5 in"}, {"1-1/2", "1/2"},
        {"3-1/2 turns", "3.5 turns"},  {"170 per inch", "170 per in"},
        {"2 * 1'6\"", "1 yd"},         {"7 ft", "84 in"},
    };
    for (size_t i = 0; i < sizeof equal / sizeof *equal; i++) {
        char text[LONGEST_TEXT], line[200];
        sprintf(line, "require %s == %s  band 20 turns of navy", equal[i][0], equal[i][1]);
        put_into(text, laid, line);
        Compilation *made = compiled(text);
        if (made->findings.errors)
            print_error("%s: %s\n", line, made->findings.list.items[0].message);
        assert_int_equal(made->findings.errors, 0);
        turnlay_free(made);
    }
}

/* --- taking out --- */

/* What stands in < > is taken out, with the blanks, the comma or the line that would be left over. */
static const struct {
    const char *marked, *left;
} taken_out[] = {
    {"a, <b>, c", "a, c"},
    {"a, <b>", "a"},
    {"{ <a>, b }", "{ b }"},
    {"{ <a> , b }", "{ b }"},
    {"{ <a>,  b }", "{ b }"},
    {"{ <a>,b }", "{ b }"},
    {"{ a  , <b> }", "{ a   }"},
    {"{ <a> }", "{ }"},
    {"x <a> y", "x y"},
    {"x\t<a>\ty", "x\ty"},
    {"x<a>y", "xy"},
    {"one\n  <a>\ntwo", "one\ntwo"},
    {"one\n\t<a> \ntwo", "one\ntwo"},
    {"one\n<a>\ntwo", "one\ntwo"},
    {"<a>\ntwo", "two"},
    {"  <a>\ntwo", "two"},
    {"one\n  <a>", "one\n"},
    {"one\n  <a> ", "one\n"},
    {"<a>", ""},
    {"one\n  <a> b\ntwo", "one\n   b\ntwo"},
    {"one <a>\ntwo", "one\ntwo"},
    {"one <a>", "one"},
};

static void test_nothing_odd_is_left(void **state)
{
    (void)state;
    for (unsigned i = 0; i < sizeof taken_out / sizeof *taken_out; i++) {
        const char *marked = taken_out[i].marked, *from = strchr(marked, '<'), *to = strchr(marked, '>');
        char text[100], left[100];
        sprintf(text, "%.*s%.*s%s", (int)(from - marked), marked, (int)(to - from - 1), from + 1, to + 1);
        Source source = {.bytes = text, .length = (uint32_t)strlen(text)};
        Span span = {(uint32_t)(from - marked), (uint32_t)(to - marked) - 1, 0};
        Span removed = span_to_remove(&source, span);
        assert_true(removed.start <= span.start && removed.end >= span.end && removed.end <= source.length);
        sprintf(left, "%.*s%s", (int)removed.start, text, text + removed.end);
        if (strcmp(left, taken_out[i].left) != 0)
            print_error("%s: \"%s\", and \"%s\" is wanted\n", marked, left, taken_out[i].left);
        assert_string_equal(left, taken_out[i].left);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_slips_become_what_was_meant), cmocka_unit_test(test_braces),
        cmocka_unit_test(test_missing_braces_hide_nothing), cmocka_unit_test(test_sound_texts_are_read_alike),
        cmocka_unit_test(test_lengths_on_rulers),           cmocka_unit_test(test_edition_left_out),
        cmocka_unit_test(test_nothing_odd_is_left)};
    return cmocka_run_group_tests_name("slips", tests, NULL, NULL);
}
