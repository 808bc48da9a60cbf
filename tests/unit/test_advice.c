/* What the bench sheet advises, as data: for every kind of step which sentences it may say, what each is about,
 * how often it says "not", which way it points and when it has to be said. A sentence that no row knows, one
 * turned round, and one that is missing are faults. The words themselves may change as long as those of the row
 * stay. */
#include "made_sheet.h"

#include "emit/html_page.h"

#include <stdio.h>
#include <stdlib.h>

/* When a row's sentence has to stand: in every step of its kind, in the first of its kind in a part and in no
 * other, or wherever it is fitting, and somewhere at least. */
typedef enum { EACH, ONCE, SOME } When;
/* Of which steps of that kind. */
typedef enum { ALL, WRAPS, CROSSWRAPS, ROD } Of;

enum { ROW_WORDS = 5 };

/* `nots`: how many of `negations` the sentence holds. `ways`: a sign for every "toward the butt" (or tip) and "to
 * your left" (or right; "to the left of", "at the tip end") in it, in their order: `+` the way the wrap is worked,
 * `-` against it, `t` toward the tip, `b` where the leg begins, `e` where it ends. `words` stand in it in this
 * order. */
typedef struct Advice {
    ActionKind kind;
    Of of;
    When when;
    unsigned nots;
    const char *ways;
    const char *words[ROW_WORDS];
} Advice;

static const char *const negations[] = {"never ", "not ", "no ", "nothing ", "cannot ", "without ", "don't "};

/* clang-format off */
static const Advice advice[] = {
    /* before */
    {ACTION_CLEAN, ALL, EACH, 0, "", {"Take grease off "}},
    {ACTION_CLEAN, ALL, EACH, 0, "", {"Wipe it with the cleaner that the finish's maker names", "let it dry"}},
    {ACTION_CLEAN, ALL, EACH, 0, "", {"Keep the cleaner off grips and printing"}},
    {ACTION_CLEAN, ALL, EACH, 0, "", {"touch only with clean hands what is wrapped or finished"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Put grip on: 0 to 5 cm from the butt"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Put top on: 99 to 101 cm from the butt"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Put check on: 0 to 1 cm from the butt end of end"}},
    {ACTION_PART, ALL, SOME, 0, "",
        {"It hides the bare tip: first put a mark a round distance from that, to measure from later"}},
    {ACTION_PART, ALL, SOME, 0, "", {"What slides on over the tip goes on before anything lies in its way"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Glue it as its maker says"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Lay feather on: 10 to 10.2 cm from the butt"}},
    {ACTION_PART, ALL, SOME, 0, "", {"The turns that follow go over it"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Put initials on: at 15 cm from the butt"}},
    {ACTION_PART, ALL, SOME, 0, "", {"Your note: here"}},
    {ACTION_PART, ALL, SOME, 1, "", {"Nothing goes under the finish later"}},
    {ACTION_MARK_LINE, ALL, EACH, 0, "", {"Mark the rod's line along "}},
    {ACTION_MARK_LINE, ALL, SOME, 0, "", {"Sight along it and turn it until it looks straight", "goes up or down then"}},
    {ACTION_MARK_LINE, ALL, SOME, 0, "", {"The line runs along its top"}},
    {ACTION_MARK_LINE, ALL, SOME, 0, "", {"on both ends, press its middle down and let it roll", "with its spine on the same side"}},
    {ACTION_MARK_LINE, ALL, SOME, 0, "", {"The line runs along that side, or opposite"}},
    {ACTION_MARK_LINE, ALL, EACH, 1, "",
        {"It is 0 deg and 12 o'clock", "middle of the reel's foot comes on it", "every ring that has no angle of its own"}},
    {ACTION_MARK_LINE, ALL, EACH, 0, "",
        {"Wax pencil or narrow tape, in short pieces beside the wraps", "under open or light thread it would show"}},
    {ACTION_MARK_LINE, ALL, SOME, 0, "", {"Put together, all sections have one line"}},
    {ACTION_DRESS_FOOT, ALL, EACH, 0, "", {"Dress the f", " of "}},
    {ACTION_DRESS_FOOT, ALL, EACH, 1, "", {"File ", "tip to a ramp", "turns can climb", "without step or burr"}},
    {ACTION_DRESS_FOOT, ALL, EACH, 1, "", {"File no further than the guide's maker allows", "weakens a foot"}},
    {ACTION_DRESS_FOOT, ALL, EACH, 0, "", {"Keep filings off the blank"}},
    {ACTION_TAPE_GUIDE, ALL, EACH, 0, "", {"Tape ", " in place by "}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "", {"Its ring comes ", " from the ", ", on the rod's line"}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "",
        {"Its ring comes ", ", at ", " deg (", "o'clock): ", " clockwise round the blank from the rod's line"}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "",
        {"Its ring comes ", ", at ", " deg (", "o'clock): ", " counter-clockwise round the blank from the rod's line"}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "", {"The tip of this foot lies ", " from the mark"}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "", {"The tip of each foot lies ", " from its mark"}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "", {"Leave the foot's tip free for the turns"}},
    {ACTION_TAPE_GUIDE, ALL, SOME, 0, "", {"Leave the tips of both feet free for the turns"}},
    {ACTION_MARK, ALL, EACH, 0, "", {"Put the mark ", " from the "}},
    {ACTION_MARK, ALL, SOME, 0, "", {"Along the whole rod that is ", " from the "}},
    {ACTION_MARK, ALL, EACH, 0, "++", {"worked from there toward the ", ", to your ", " on: mark that too"}},
    {ACTION_MARK, ALL, SOME, 0, "", {"Mark its own line, too, at ", " deg (", " round the blank from the rod's line"}},
    {ACTION_MARK, ALL, SOME, 0, "", {"Mark the ring's line, too, at ", " deg (", " round the blank from the rod's line"}},
    {ACTION_MARK, ALL, SOME, 0, "", {"The tip of this foot, which is taped already, lies ", " from the mark"}},
    {ACTION_MARK, ALL, SOME, 1, "", {"Mark with wax pencil or tape", "never with a point"}},
    /* threads come */
    {ACTION_START, ALL, EACH, 0, "", {"Start ", " over its own tag"}},
    {ACTION_START, ALL, SOME, 0, "++", {"Lay its tag along the blank toward"}},
    {ACTION_START, ALL, SOME, 0, "++",
        {"Lay its tag along the blank toward", "hold it with a finger until 6 turns lie over it"}},
    {ACTION_START, ALL, SOME, 0, "++",
        {"Lay its tag along the blank toward", "hold it with a finger until it is taped"}},
    {ACTION_START, ALL, EACH, 0, "", {"Wind the first three of the turns that follow as tight as possible"}},
    {ACTION_START, CROSSWRAPS, EACH, 0, "", {"This end band, ", " lies over all strands and holds them"}},
    {ACTION_START, WRAPS, SOME, 0, "", {"Leave a gap of ", " first"}},
    {ACTION_LAY_IN, ALL, EACH, 0, "", {"Lay in ", "its tag along the blank, under the next turns"}},
    {ACTION_LAY_IN, ALL, SOME, 0, "++", {"The long end of ", " points toward", ": coil it up, as it turns with the blank"}},
    {ACTION_LAY_IN, ALL, SOME, 0, "++", {"From there ", " goes to its spool toward"}},
    {ACTION_LAY_IN, ALL, EACH, 0, "", {"The next ", " over the tag; it is only lightly held until the piece makes its own first turns"}},
    {ACTION_LAY_LOOP, ALL, EACH, 0, "+", {"Lay a loop for ", ", eye toward the "}},
    {ACTION_LAY_LOOP, ALL, EACH, 0, "+-",
        {"The loop's eye to your ", "beyond the last of these turns; its two ends to your "}},
    {ACTION_LAY_LOOP, ALL, EACH, 0, "", {" will lie over it"}},
    {ACTION_LAY_LOOP, ALL, SOME, 0, "", {" will lie over it: hold it with a finger until 4 turns lie over it"}},
    {ACTION_LAY_LOOP, ALL, EACH, 0, "", {"The end of ", " comes out "}},
    /* threads change */
    {ACTION_TAKE_UP, ALL, EACH, 0, "", {"Take up "}},
    {ACTION_TAKE_UP, ALL, SOME, 0, "",
        {"Make the first turns of ", " as tight as possible", "few turns hold its tag"}},
    {ACTION_TAKE_UP, ALL, SOME, 0, "", {"Draw ", " tight: the turns made meanwhile lie over it"}},
    {ACTION_WIND, ALL, SOME, 0, "", {"Wind ", " of "}},
    {ACTION_WIND, ALL, SOME, 0, "", {"In each turn ", " lies next to the turns before, then "}},
    {ACTION_WIND, ALL, SOME, 0, "", {"Wrap ", " of ", " by hand", ", blank still"}},
    {ACTION_WIND, ALL, SOME, 0, "", {"Fade from ", " to ", ": in ", ", out "}},
    {ACTION_WIND, ALL, SOME, 0, "", {"Fade step ", " of "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Tape down the tag of "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Tape down the end of "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Tape down the loop for "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Tape down "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Put the tape on ", " behind the turns"}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Put the tape on ", " clear of the next "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Put the tape on ", " clear of the next ", ": of all that come before it is taken up"}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Ease the tension of "}},
    {ACTION_TAPE_DOWN, ALL, SOME, 0, "", {"Tape down the bobbin of "}},
    {ACTION_UNTAPE, ALL, SOME, 0, "", {"Take the tape off the bobbin of "}},
    {ACTION_LOAD, ALL, EACH, 0, "", {"Load a bobbin with ", " m of mist: mist 1"}},
    {ACTION_LOAD, ALL, EACH, 0, "", {"Wind it off its spool and cut it there"}},
    {ACTION_LOAD, ALL, EACH, 0, "", {"The bobbin is taped to the blank and turns with it, or goes round it from hand to hand"}},
    {ACTION_LAY_IN, ALL, SOME, 0, "++", {"The long end of ", ", with its bobbin, points toward"}},
    {ACTION_UNTAPE, ALL, SOME, 0, "", {"Take the tape off the tag of "}},
    {ACTION_UNTAPE, ALL, SOME, 0, "", {"Take the tape off the end of "}},
    {ACTION_UNTAPE, ALL, SOME, 0, "", {"Take the tape off the loop for "}},
    {ACTION_UNTAPE, ALL, SOME, 0, "", {"Take the tape off "}},
    {ACTION_CUT_FROM_SPOOL, ALL, SOME, 0, "", {"Cut ", " from its spool, ", " from its last turn"}},
    {ACTION_CUT_FROM_SPOOL, ALL, SOME, 0, "", {"From here on ", " is wrapped by hand", "enough for its last turns and its end"}},
    {ACTION_STAND, ALL, SOME, 0, "", {"Let ", " stand: its spool rests, the blank too"}},
    {ACTION_STAND, ALL, SOME, 0, "", {"Let ", " stand"}},
    {ACTION_STAND, ALL, SOME, 0, "++", {"Lay ", " along the blank toward ", "the turns made meanwhile go over it"}},
    {ACTION_STAND, ALL, SOME, 2, "", {"Do not turn the blank until ", " is taken up", "a spool cannot turn with it"}},
    {ACTION_STAND, ALL, SOME, 1, "", {"Do not turn the blank until ", " is taken up again"}},
    /* threads go */
    {ACTION_LAY_END, ALL, EACH, 0, "", {"Cut ", "along the blank, under the next turns"}},
    {ACTION_LAY_END, ALL, EACH, 0, "", {"Hold the last turn of ", " with a finger and cut ", " from the blank"}},
    {ACTION_LAY_END, ALL, SOME, 0, "++", {"Lay the end toward ", ": the next ", " hold it"}},
    {ACTION_LAY_END, ALL, SOME, 0, "++", {"Lay the end toward ", ": the next ", " hold it, a finger until then"}},
    {ACTION_LAY_END, ALL, SOME, 0, "++", {"Lay the end toward ", ": the next ", " hold it, a finger until it is taped"}},
    {ACTION_LAY_END, ALL, SOME, 0, "++", {"Lay the end toward ", ": it comes off again with the spacer"}},
    {ACTION_LAY_END, ALL, SOME, 0, "++",
        {"Lay the end toward ", ": it comes off again with the spacer; hold it with a finger until it is taped"}},
    {ACTION_PULL_THROUGH, ALL, EACH, 0, "", {"Cut ", "end through the loop", "draw it back under the last "}},
    {ACTION_PULL_THROUGH, ALL, EACH, 0, "",
        {"Hold the last turn of ", " with a finger, cut ", " from the blank, put the end through the loop's eye", "draw the loop by its two ends, slowly"}},
    {ACTION_PULL_THROUGH, ALL, EACH, 0, "", {"The end comes out "}},
    {ACTION_TRIM_TAG, ALL, EACH, 0, "", {"Trim the tag of "}},
    {ACTION_TRIM_TAG, ALL, EACH, 0, "", {" turns hold the tag of "}},
    {ACTION_TRIM_TAG, ALL, EACH, 2, "", {"Draw what is trimmed tight and cut away from the blank: never press, never draw the blade round"}},
    {ACTION_TRIM_END, ALL, EACH, 0, "", {"Trim the end of "}},
    {ACTION_TRIM_END, ALL, EACH, 2, "", {"Draw what is trimmed tight and cut away from the blank: never press, never draw the blade round"}},
    {ACTION_TAKE_SPACER, ALL, EACH, 0, "", {"Unwind the spacer "}},
    {ACTION_TAKE_SPACER, ALL, EACH, 0, "",
        {"Draw its end out from under the turns that lie over it", "turn the blank back and unwind it from its last turn to its first", "its tag comes last"}},
    {ACTION_TAKE_SPACER, ALL, EACH, 0, "", {"Its even gap stays"}},
    /* meanwhile */
    {ACTION_PACK, WRAPS, EACH, 0, "--", {"Pack the turns toward the ", ", to your "}},
    {ACTION_PACK, WRAPS, ONCE, 1, "", {"Push the turns together with something smooth until nothing shows between them"}},
    {ACTION_PACK, CROSSWRAPS, SOME, 0, "--", {"Pack the turns toward the ", ", to your "}},
    {ACTION_PACK, CROSSWRAPS, SOME, 0, "", {"Close up the strands"}},
    {ACTION_PACK, CROSSWRAPS, SOME, 0, "",
        {"blunt and smooth, along each leg, until they touch", "crossings lie on their crossing lines"}},
    {ACTION_PACK, CROSSWRAPS, SOME, 0, "",
        {"blunt and smooth, along each leg, until they touch from one end to the other"}},
    {ACTION_MEASURE, ALL, EACH, 0, "", {"Measure the width: it should be "}},
    {ACTION_MEASURE, ALL, ONCE, 0, "", {"The width is from where this layer begins to its last turn", "write it down"}},
    {ACTION_MEASURE, ALL, ONCE, 0, "", {"If it is wider than it should be, pack and measure again"}},
    {ACTION_MEASURE, ALL, ONCE, 0, "", {"If it is still off by more than ", "plan the rest again with it", "--measured and the step's number"}},
    {ACTION_TAKE_TAPE, ALL, EACH, 0, "", {"Take the tape off this foot of "}},
    {ACTION_TAKE_TAPE, ALL, SOME, 0, "", {"The turns end before it and hold the foot as far as they go"}},
    {ACTION_TAKE_TAPE, ALL, SOME, 0, "", {"half way up the foot and hold it; the tape would lie in their way"}},
    /* crosswraps */
    {ACTION_SET_OUT, ALL, SOME, 0, "", {"Set out the ", "lines, crossings ", " apart"}},
    {ACTION_SET_OUT, ALL, SOME, 0, "", {"Set out the spiral: where "}},
    {ACTION_SET_OUT, ALL, SOME, 0, "",
        {"Wrap the PDF sheet's template round the blank", "its mark on yours, and mark the blank through it with a wax pencil; or by hand: "}},
    {ACTION_SET_OUT, ALL, SOME, 0, "", {"the first strand ", "enters the field at ", " from the mark"}},
    {ACTION_SET_OUT, ALL, EACH, 0, "", {"Mark also where the end bands end: "}},
    {ACTION_SET_OUT, ALL, EACH, 0, "",
        {"Degrees go round", "clockwise as you look from the butt to the tip", "12 o'clock, the rod's line"}},
    {ACTION_SET_OUT, ALL, SOME, 1, "", {"Wax pencil, never a point"}},
    {ACTION_SET_OUT, ALL, SOME, 2, "",
        {"Wax pencil, never a point; small marks where strands will lie", "wax is not wiped off thread"}},
    {ACTION_HOLD_ENDS, ALL, SOME, 0, "", {"Tape round the blank, just outside both end bands"}},
    {ACTION_HOLD_ENDS, ALL, SOME, 0, "", {"Set pins round the blank, just outside both end bands"}},
    {ACTION_HOLD_ENDS, ALL, EACH, 0, "-+", {"To the ", " of ", "the mark, and to the ", " of ", " from it"}},
    {ACTION_HOLD_ENDS, ALL, SOME, 0, "", {"At each end two turns of it, with the sticky side out in the last: every pass turns round on it"}},
    {ACTION_HOLD_ENDS, ALL, SOME, 1, "",
        {"In a collar, never in the blank, heads leaning outward: every pass turns round on"}},
    {ACTION_HOLD_ENDS, ALL, SOME, 0, "-+",
        {"2 pins to your ", ", at ", "; 2 pins to your ", ", at ", "; the rod's line is at 12"}},
    {ACTION_HOLD_ENDS, ALL, SOME, 0, "", {"Where strands crowd on a pin, set another beside it"}},
    {ACTION_TIE_ON, ALL, EACH, 0, "", {"Tape on "}},
    {ACTION_TIE_ON, ALL, ONCE, 0, "b",
        {"Tape ", " of its end to the blank, to your ", "beyond ", "first leg begins"}},
    {ACTION_TIE_ON, ALL, ONCE, 1, "", {"Its spool then feeds it without a stop"}},
    {ACTION_TIE_ON, ALL, SOME, 0, "",
        {"Draw it off until its first colour, #", ", begins where it is led over the end band"}},
    {ACTION_TIE_ON, ALL, SOME, 0, "", {"Its first colour, #", ", begins there, too"}},
    {ACTION_LEG, ALL, EACH, 0, "e", {" toward the ", ": ", ", "}},
    {ACTION_LEG, ALL, SOME, 0, "t", {"The tip side of a thread is to your "}},
    {ACTION_LEG, ALL, SOME, 0, "e", {"Let the blank turn and lead the thread steadily to your "}},
    {ACTION_LEG, ALL, SOME, 0, "e",
        {"The blank goes on turning the same way; lead the thread to your ", "across all"}},
    {ACTION_LEG, ALL, SOME, 0, "e", {"At the ", " end carry the thread round the "}},
    {ACTION_TIE_OFF, ALL, EACH, 0, "", {"Tape down and cut "}},
    {ACTION_TIE_OFF, ALL, ONCE, 0, "e", {"Tape its end to the blank, to your ", "beyond ", "and cut it ", " from there"}},
    {ACTION_SYMMETRY, ALL, SOME, 0, "", {"Check the first pass before adding strands: is it even?"}},
    {ACTION_SYMMETRY, ALL, SOME, 0, "", {"Check the first passes before adding strands: are they even?"}},
    {ACTION_SYMMETRY, ALL, EACH, 0, "", {"Turn the blank slowly by hand"}},
    {ACTION_SYMMETRY, ALL, SOME, 0, "", {"On every crossing line, the far side's too, each crossing lies on its mark"}},
    {ACTION_SYMMETRY, ALL, SOME, 0, "",
        {"From turn to turn", "the way along the blank is the same all over the field"}},
    {ACTION_SYMMETRY, ALL, EACH, 0, "",
        {"Push what is off into place with something blunt: later strands lie against these"}},
    {ACTION_SYMMETRY, ALL, EACH, 0, "", {"A thread that still runs is taped down while you stop"}},
    {ACTION_UNWIND, ALL, EACH, 0, "", {"Take off the spacer "}},
    {ACTION_UNWIND, ALL, SOME, 0, "",
        {"Cut it on the ", "draw its legs out lengthwise from under the others, the last first"}},
    {ACTION_UNWIND, ALL, SOME, 0, "", {"Loosen its ends, turn the blank back and unwind it"}},
    {ACTION_UNWIND, ALL, ONCE, 0, "", {"Its even gap stays"}},
    {ACTION_TAKE_ENDS, ALL, EACH, 0, "", {"Cut all strands at both end bands"}},
    {ACTION_TAKE_ENDS, ALL, EACH, 0, "", {"Only when the sealing is hard"}},
    {ACTION_TAKE_ENDS, ALL, EACH, 2, "",
        {"Just outside the end bands slide something thin and smooth under a few strands", "lift them off what lies below",
            "cut them on it with a new blade: away from the blank, never press, never draw the blade round"}},
    {ACTION_TAKE_ENDS, ALL, EACH, 0, "", {"All that lies outside comes off"}},
    /* after */
    {ACTION_BIND_RING, ALL, EACH, 0, "", {"Bind beyond the ring of "}},
    {ACTION_BIND_RING, ALL, EACH, 0, "",
        {"three or four turns on the far side of the ring", "keep the guide in its wrap"}},
    {ACTION_BIND_RING, ALL, EACH, 1, "", {"They rate it for no load: ask its maker"}},
    {ACTION_BIND_RING, ALL, EACH, 1, "", {"Their thread is not in the cut list"}},
    {ACTION_ALIGN, ALL, SOME, 0, "", {"Sight along the rod and bring the guides into line"}},
    {ACTION_ALIGN, ALL, SOME, 0, "", {"Sight along the rod and bring each guide to its angle"}},
    {ACTION_ALIGN, ALL, SOME, 0, "",
        {"ring 25 cm from the butt on the rod's line; ring 32 cm from the butt on the rod's line; tip 40 cm from the butt at 60 deg (2 o'clock); tip 50 cm from the bare tip at 240 deg (8 o'clock); the rod's line is at 12"}},
    {ACTION_ALIGN, ALL, SOME, 0, "", {"tip 40 cm from the butt at 60 deg (2 o'clock); the rod's line is at 12"}},
    {ACTION_ALIGN, ALL, EACH, 0, "", {"Nudge the feet, which lie under their wraps, a little at a time"}},
    {ACTION_ALIGN, ALL, EACH, 1, "", {"After the finish nothing moves any more"}},
    {ACTION_SEAL, ROD, EACH, 0, "", {"Brush colour preserver on the wraps that need it and let it dry"}},
    {ACTION_SEAL, ROD, EACH, 1, "", {" darker under finish without it"}},
    {ACTION_SEAL, ROD, SOME, 0, "", {"Gloves and fresh air"}},
    {ACTION_SEAL, WRAPS, EACH, 0, "", {"eal ", " and let it cure"}},
    {ACTION_SEAL, WRAPS, SOME, 0, "", {"Seal this layer and let it cure"}},
    {ACTION_SEAL, WRAPS, SOME, 0, "", {"Brush colour preserver on this layer and let it dry, then seal it and let it cure"}},
    {ACTION_SEAL, WRAPS, SOME, 1, "", {"Colour preserver is for mist, which goes darker under sealer or finish without it"}},
    {ACTION_SEAL, WRAPS, EACH, 1, "", {"Brush the turns alone", "tape that it reaches does not come off"}},
    {ACTION_SEAL, WRAPS, EACH, 0, "", {"It has to be hard before the next layer lies on it"}},
    {ACTION_SEAL, WRAPS, SOME, 0, "", {"Gloves and fresh air"}},
    {ACTION_SEAL, CROSSWRAPS, EACH, 0, "", {"eal ", " and let it cure hard"}},
    {ACTION_SEAL, CROSSWRAPS, SOME, 0, "", {"Seal the ", " and let it cure hard"}},
    {ACTION_SEAL, CROSSWRAPS, SOME, 0, "", {"Brush colour preserver on the ", " and let it dry, then seal it and let it cure hard"}},
    {ACTION_SEAL, CROSSWRAPS, SOME, 1, "", {"Colour preserver is for mist, which goes darker under sealer or finish without it"}},
    {ACTION_SEAL, CROSSWRAPS, EACH, 0, "", {"Marks that show in the field come off first, lifted dry"}},
    {ACTION_SEAL, CROSSWRAPS, EACH, 2, "",
        {"Brush field and end bands, and nothing outside them", "what is sealed there would not come off"}},
    {ACTION_SEAL, CROSSWRAPS, SOME, 1, "",
        {"It has to be hard before the ", "until then nothing else holds the strands' ends"}},
    {ACTION_SEAL, CROSSWRAPS, SOME, 0, "", {"Gloves and fresh air"}},
    {ACTION_SINGE, ALL, EACH, 0, "", {"Take off the fuzz"}},
    {ACTION_SINGE, ALL, EACH, 0, "", {"Move a small clean flame along, quickly, or trim the hairs one by one"}},
    {ACTION_SINGE, ALL, EACH, 1, "", {"No flame near solvent or finish, and none that rests on thread or blank"}},
    {ACTION_WIPE, ALL, EACH, 0, "", {"Take the marks off the blank"}},
    {ACTION_WIPE, ALL, EACH, 0, "",
        {"Draw off tape, and wipe wax off the bare blank with the cleaner that the finish's maker names"}},
    {ACTION_WIPE, ALL, EACH, 1, "", {"Never wipe thread with it", "from thread wax is lifted dry"}},
    {ACTION_WIPE, ALL, EACH, 0, "", {"Let the blank dry"}},
    {ACTION_COAT, ALL, EACH, 0, "", {"Coat ", " of ", ": brush finish over every wrap"}},
    {ACTION_COAT, ALL, EACH, 1, "",
        {"Keep ", " turning until it no longer runs, then let it cure as its maker says"}},
    {ACTION_COAT, ALL, SOME, 0, "", {"Gloves and fresh air"}},
};
/* clang-format on */
enum { ADVICE_COUNT = sizeof advice / sizeof *advice };

/* Rods that between them take every kind of step, worked both ways, with either end to the left. */
#define THREADS                                                                                                   \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm, colour: #22346b }\n"                                                         \
    "thread mist { turns: 67 per cm, colour: #9db8d6, preserver: yes }\n"                                         \
    "thread dusk { turns: 67 per cm, colours: [#4c6a9c, #9db8d6, #dfe9ef], period: 9 cm }\n"                      \
    "guide ring { foot: [12 mm, 12 mm], gap: 6 mm, before: 3 mm }\n"                                              \
    "guide tip { foot: 12 mm, gap: 6 mm, before: 3 mm }\n"                                                        \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

static const char *const texts[] = {
    THREADS "bench { seal: yes, lock: yes, measure: 25 turns }\n"
            "rod \"Guides\" on tube {\n"
            "    at 10 cm { gap 1 mm  band 60 turns of navy { inlay 2 turns of mist at: 1/2 } }\n"
            "    at 18 cm { band 20 turns of navy  fade to mist steps: 4  band 60 turns of mist }\n"
            "    at 25 cm guide: ring { under { band fill of navy }  over { band fill of mist } }\n"
            "    at 32 cm { under { band 20 turns of mist }  over { band 20 turns of navy } }\n"
            "    at 40 cm guide: tip { band fill of navy }\n"
            "}\n",
    THREADS
    "rod \"Round\" on tube {\n"
    "    part initials at 15 cm { note: \"here\" }  part grip at 0 cm length: 5 cm { diameter: 20 mm }\n"
    "    part feather at 10 cm length: 2 mm { wrapped: yes }  part top at 99 cm length: 2 cm { diameter: 5 mm }\n"
    "    at 10 cm angle: -90 deg { band 60 turns of navy }\n"
    "    at 25 cm guide: ring { band fill of navy }\n"
    "    at 32 cm guide: ring { under { band fill of navy }  over { band fill of mist } }\n"
    "    at 40 cm guide: tip angle: 60 deg { band fill of navy }\n"
    "    at 50 cm from: tip guide: tip angle: 240 deg { band fill of navy }\n"
    "}\n",
    THREADS
    "blank end { at 0 mm: 6 mm  at 60 cm: 4 mm }\nbench { line: spine }\n"
    "rod \"Two\" on [tube, end] { part check at 100 cm length: 1 cm { diameter: 7 mm } at 20 cm { band 60 turns of navy }"
    " at 20 cm from: tip { band 60 turns of navy } }\n",
    THREADS "bench { drive: hand, brake: no }\n"
            "rod \"No brake\" on tube { at 10 cm { band 60 turns of navy { inlay 5 turns of mist at: 1/2 }\n"
            "    band 4 turns of mist } }\n",
    THREADS "bench { bobbins: 1 }\n"
            "rod \"On a bobbin\" on tube { at 10 cm { band 20 turns of navy  fade to mist steps: 3\n"
            "    band 60 turns of mist } }\n",
    THREADS
    "rod \"Together\" on tube {\n"
    "    at 20 cm { band 12 turns of navy  band 30 turns of [navy, spacer(dusk)]  band 12 turns of navy }\n"
    "    at 30 cm { band 12 turns of navy  band 30 turns of [navy, dusk]  band 12 turns of navy }\n"
    "}\n",
    THREADS "rod \"A short wrap\" on tube { at 40 cm guide: tip { band 30 turns of navy } }\n",
    THREADS "bench { tape: no }\n"
            "rod \"Held by hand\" on tube { at 40 cm guide: tip angle: 60 deg { band fill of navy } }\n",
    THREADS
    "bench { left: tip, seal: yes, holders: 3, hand: 12 m }\n"
    "rod \"The other way\" on tube {\n"
    "    at 20 cm toward: butt { band 20 turns of navy  fade to mist steps: 3  band 20 turns of mist }\n"
    "    at 30 cm toward: butt { band 20 turns of [navy, spacer(mist)]  gap 1 mm  band 60 turns of navy }\n"
    "    at 40 cm toward: butt {\n"
    "        band 9 turns of [navy, spacer(mist)]\n"
    "        band 40 turns of navy { inlay 2 turns of mist at: 1/2 } band 2 turns of mist band 20 turns of navy\n"
    "    }\n"
    "}\n",
    THREADS
    "bench { hand: 12 m, friction: 0.3 }\n"
    "rod \"Taped\" on tube {\n"
    "    at 8 cm length: 80 mm { diamond crossings: 4 ends: 12 turns of navy {\n"
    "        strand 2 of mist  strand 2 of spacer(navy)  strand 1 of dusk } }\n"
    "    at 50 cm length: 60 mm { spiral turns: 3 turns starts: 2 ends: 3 mm of navy {\n"
    "        strand 2 of mist  strand 1 of spacer(navy)  strand 2 of mist } }\n"
    "    at 65 cm toward: butt length: 60 mm { spiral lead: 17 mm ends: 50 turns of navy { strand 3 of dusk } }\n"
    "}\n",
    THREADS
    "bench { left: tip, ends: pins, hand: 12 m, seal: yes }\n"
    "rod \"Pinned\" on tube {\n"
    "    at 10 cm length: 75 mm { under { band fill of navy }\n"
    "        chevron crossings: 4 ends: 3 mm of navy { strand 3 of mist  strand 1 of navy } }\n"
    "    at 50 cm toward: butt length: 75 mm { diamond angle: 35 deg ends: 3 mm of navy { strand 3 of mist } }\n"
    "}\n",
    THREADS "bench { ends: none, friction: 0.5, hand: 12 m }\n"
            "rod \"By friction\" on tube {\n"
            "    at 10 cm length: 75 mm { chevron crossings: 4 ends: 12 mm of navy { strand 3 of mist } }\n"
            "}\n",
};
enum { TEXT_COUNT = sizeof texts / sizeof *texts };

static bool starts_with(const char *text, const char *word) { return strncmp(text, word, strlen(word)) == 0; }

static unsigned count_negations(const char *sentence)
{
    unsigned count = 0;
    for (const char *at = sentence; *at; at++)
        for (size_t i = 0; i < sizeof negations / sizeof *negations; i++) {
            const char *word = negations[i];
            bool begins = at == sentence || at[-1] == ' ';
            count += begins && (at[0] | 32) == word[0] && starts_with(at + 1, word + 1);
        }
    return count;
}

static bool holds_words(const char *sentence, const char *const *words)
{
    for (int i = 0; i < ROW_WORDS && words[i]; i++) {
        sentence = strstr(sentence, words[i]);
        if (!sentence)
            return false;
        sentence += strlen(words[i]);
    }
    return true;
}

/* The step's surroundings: what its directions are held against. */
typedef struct Around {
    const SheetAction *shown;
    const LegAction *leg;      /* itself, the first behind a TIE_ON, the last before a TIE_OFF; NULL for others */
    const PlannedPlace *place; /* NULL for the whole rod */
    bool crosswrap, butt_left;
} Around;

/* +1 toward the tip, -1 toward the butt. */
static int way_meant(char sign, const Around *around)
{
    const LegAction *leg = around->leg;
    switch (sign) {
    case '+': return around->place->direction;
    case '-': return -around->place->direction;
    case 'b': return leg->from > leg->to ? 1 : -1;
    case 'e': return leg->to > leg->from ? 1 : -1;
    default: return 1;
    }
}

/* The way that words at this place point, or 0. */
static int way_said(const char *at, bool butt_left)
{
    if (starts_with(at, "toward the "))
        return starts_with(at + strlen("toward the "), "tip") ? 1 : -1;
    if (starts_with(at, "to your "))
        return starts_with(at + strlen("to your "), "right") == butt_left ? 1 : -1;
    if (starts_with(at, "o the left of ") || starts_with(at, "o the right of "))
        return starts_with(at + strlen("o the "), "right") == butt_left ? 1 : -1;
    if (starts_with(at, "At the tip end ") || starts_with(at, "At the butt end "))
        return starts_with(at + strlen("At the "), "tip") ? 1 : -1;
    return 0;
}

static bool points_rightly(const char *sentence, const char *ways, const Around *around)
{
    for (const char *at = sentence; *at; at++) {
        int said = way_said(at, around->butt_left);
        if (said && (!*ways || way_meant(*ways++, around) != said))
            return false;
    }
    return !*ways;
}

static bool is_about(const Advice *row, const Around *around)
{
    Of of = !around->place ? ROD : around->crosswrap ? CROSSWRAPS : WRAPS;
    return row->kind == around->shown->action->kind && (row->of == ALL || row->of == of);
}

static bool is_row(const Advice *row, const char *sentence, const Around *around)
{
    return is_about(row, around) && count_negations(sentence) == row->nots && holds_words(sentence, row->words)
           && points_rightly(sentence, row->ways, around);
}

/* How often each row has been said: in this step, in this part, at all. */
typedef struct Said {
    unsigned step[ADVICE_COUNT], part[ADVICE_COUNT], all[ADVICE_COUNT];
} Said;

static void read_sentence(const char *sentence, const Around *around, Said *said)
{
    bool known = false;
    for (int i = 0; i < ADVICE_COUNT; i++)
        if (is_row(&advice[i], sentence, around)) {
            said->step[i]++;
            known = true;
        }
    if (!known)
        fail_msg("no row knows this, or it is turned round: \"%s\"", sentence);
}

/* Sentences end with ". ", never within a number. */
static void read_sentences(const char *text, const Around *around, Said *said)
{
    char sentence[512];
    while (*text) {
        const char *end = strstr(text, ". ");
        size_t length = end ? (size_t)(end - text) : strlen(text);
        assert_true(length < sizeof sentence);
        memcpy(sentence, text, length);
        sentence[length] = '\0';
        read_sentence(sentence, around, said);
        text += end ? length + 2 : length;
    }
}

static void read_step(const Around *around, Said *said)
{
    memset(said->step, 0, sizeof said->step);
    /* A small one within a step of several actions. */
    assert_in_range(around->shown->says[0], 'A', 'Z');
    read_sentences(around->shown->says, around, said);
    read_sentences(around->shown->detail, around, said);
    for (int i = 0; i < ADVICE_COUNT; i++) {
        if (!is_about(&advice[i], around))
            continue;
        bool wanted = advice[i].when == EACH || (advice[i].when == ONCE && !said->part[i]);
        if (wanted && !said->step[i])
            fail_msg("not said: \"%s\"\nin \"%s\"", advice[i].words[0], around->shown->detail);
        if (advice[i].when == ONCE && said->part[i] && said->step[i])
            fail_msg("said again: %s", advice[i].words[0]);
        said->part[i] += said->step[i];
        said->all[i] += said->step[i];
    }
}

static const LegAction *leg_of(const SheetRod *rod, uint32_t i)
{
    ActionKind kind = rod->actions[i].action->kind;
    if (kind != ACTION_LEG && kind != ACTION_TIE_ON && kind != ACTION_TIE_OFF)
        return NULL;
    while (rod->actions[i].action->kind != ACTION_LEG)
        i += kind == ACTION_TIE_ON ? 1 : -1U;
    return &rod->actions[i].action->leg;
}

static void read_rod(const Made *made, const SheetRod *rod, Said *said)
{
    for (uint32_t p = 0; p < rod->part_count; p++) {
        memset(said->part, 0, sizeof said->part);
        for (uint32_t i = rod->parts[p].first; i < rod->parts[p].first + rod->parts[p].count; i++) {
            const Action *step = rod->actions[i].action;
            Around around = {.shown = &rod->actions[i],
                             .leg = leg_of(rod, i),
                             .butt_left = made->sheet->bench->plan->job->bench.butt_left};
            if (step->place != WHOLE_ROD)
                around.place = &rod->bench->rod->places[step->place];
            around.crosswrap = step->layer != WHOLE_ROD && around.place->layers[step->layer].crosswrap;
            read_step(&around, said);
        }
    }
}

static void test_every_advice(void **state)
{
    (void)state;
    static Said said;
    for (int i = 0; i < TEXT_COUNT; i++) {
        Made made = make(texts[i]);
        for (uint32_t r = 0; r < made.sheet->rod_count; r++)
            read_rod(&made, &made.sheet->rods[r], &said);
        turnlay_free(made.compilation);
    }
    bool of_kind[ACTION_KIND_COUNT] = {false};
    for (int i = 0; i < ADVICE_COUNT; i++) {
        of_kind[advice[i].kind] = true;
        if (!said.all[i])
            fail_msg("never said: %s%s", advice[i].words[0], advice[i].words[1] ? advice[i].words[1] : "");
    }
    for (int kind = 0; kind < ACTION_KIND_COUNT; kind++)
        if (!of_kind[kind])
            fail_msg("no row for step kind %d", kind);
}

/* Which facts stand beside a step: where along the blank, after how many turns (or which pass), where round it. */
enum { WHERE = 1, COUNT = 2, HOUR = 4, PASS = 8, ROUND = 16, WIDTH = 32 };

static const unsigned facts[ACTION_KIND_COUNT] = {
    [ACTION_START] = WHERE | COUNT | HOUR,
    [ACTION_LAY_IN] = WHERE | COUNT | HOUR,
    [ACTION_LAY_LOOP] = WHERE | COUNT | HOUR,
    [ACTION_LAY_END] = WHERE | COUNT | HOUR,
    [ACTION_CUT_FROM_SPOOL] = COUNT,
    [ACTION_WIND] = WHERE | COUNT,
    [ACTION_PULL_THROUGH] = COUNT,
    [ACTION_PACK] = COUNT,
    [ACTION_MEASURE] = COUNT | WIDTH,
    [ACTION_TAKE_TAPE] = COUNT,
    [ACTION_LEG] = PASS | ROUND,
    [ACTION_TIE_ON] = ROUND,
    [ACTION_TIE_OFF] = ROUND,
};

static unsigned facts_shown(const SheetAction *step)
{
    unsigned shown = 0;
    if (strstr(step->where, " from the mark") || !strcmp(step->where, "at the mark"))
        shown |= WHERE;
    else if (strstr(step->where, " deg ("))
        shown |= ROUND;
    if (starts_with(step->count, "pass "))
        shown |= PASS;
    else if (strstr(step->count, " the layer"))
        shown |= COUNT;
    if (strstr(step->clock, "o'clock"))
        shown |= HOUR;
    return shown | (step->measure ? WIDTH : 0);
}

/* Nothing is laid before the first turn, so that a count need not be said there. */
static void test_facts_of_every_kind(void **state)
{
    (void)state;
    for (int i = 0; i < TEXT_COUNT; i++) {
        Made made = make(texts[i]);
        for (uint32_t r = 0; r < made.sheet->rod_count; r++)
            for (uint32_t k = 0; k < made.sheet->rods[r].action_count; k++) {
                const SheetAction *shown = &made.sheet->rods[r].actions[k];
                unsigned wanted = facts[shown->action->kind];
                if (!shown->action->layer_count)
                    wanted &= ~(unsigned)COUNT;
                if (facts_shown(shown) != wanted)
                    fail_msg("%s: \"%s\" \"%s\" \"%s\"", shown->says, shown->where, shown->count, shown->clock);
                bool of_thread = shown->action->piece != NO_PIECE;
                assert_int_equal(*shown->thread != 0, of_thread);
                assert_int_equal(shown->colour != NO_COLOUR, of_thread);
            }
        turnlay_free(made.compilation);
    }
}

/* The dangers: subject, and what to do about it. */
static void test_cautions(void **state)
{
    (void)state;
    static const struct {
        unsigned nots;
        const char *words[ROW_WORDS];
    } dangers[] = {
        {2,
         {"nick from a blade", "breaks under load",
          "cut away from the blank, never press, never draw the blade round it"}},
        {0, {"epoxy irritates skin and eyes", "wear gloves, air the room", "safety data sheet"}},
        {0, {"Keep hair, sleeves and loose thread clear of a powered spindle"}},
        {1, {"Load ratings", "are their makers' word, not this program's"}},
    };
    Made made = make(texts[0]);
    assert_int_equal(made.sheet->caution_count, sizeof dangers / sizeof *dangers);
    for (uint32_t i = 0; i < made.sheet->caution_count; i++) {
        if (!holds_words(made.sheet->cautions[i], dangers[i].words))
            fail_msg("not the caution: %s", made.sheet->cautions[i]);
        assert_int_equal(count_negations(made.sheet->cautions[i]), dangers[i].nots);
    }
    turnlay_free(made.compilation);
}

/* What may hurt at an action: in which kinds, what is said of it, and to whose word it defers. */
enum { MOST_KINDS = 9 };
static const struct {
    ActionKind kinds[MOST_KINDS];
    int count;
    const char *words[ROW_WORDS];
} dangers_at_work[] = {
    {{ACTION_CLEAN, ACTION_WIPE},
     2,
     {"gloves and fresh air", "no flame or spark", "burn", "cloths wet",
      "their maker's data sheet and your local rules"}},
    {{ACTION_PART},
     1,
     {"gloves and fresh air for glue", "goggles and a dust mask",
      "Makers' data sheets and your local rules come first"}},
    {{ACTION_DRESS_FOOT},
     1,
     {"goggles and a dust mask", "eyes", "glass and of carbon fibre harms lungs", "guide's maker", "comes first"}},
    {{ACTION_WIND, ACTION_LEG}, 2, {"hair, sleeves and loose thread are clear of the spindle", "Stop it before"}},
    {{ACTION_LAY_END, ACTION_PULL_THROUGH, ACTION_TRIM_TAG, ACTION_TRIM_END, ACTION_TIE_OFF, ACTION_UNWIND,
      ACTION_TAKE_ENDS, ACTION_BIND_RING},
     8,
     {"cut away from the blank and from your fingers", "sharp blade", "breaks under load"}},
    {{ACTION_SEAL}, 1, {"gloves and fresh air", "no flame", "makers' data sheets and your local rules"}},
    {{ACTION_SINGE}, 1, {"no solvent, finish, cloth", "near the flame", "hair and sleeves", "wet at hand"}},
    {{ACTION_COAT},
     1,
     {"gloves and fresh air", "no flame", "can sensitise", "its maker's data sheet and your local rules"}},
};
enum { DANGERS_AT_WORK = sizeof dangers_at_work / sizeof *dangers_at_work };

/* The row of an action's danger; DANGERS_AT_WORK if it has none. Turns made by hand turn no spindle, and what is
 * laid on without a thickness needs no glue. */
static int danger_row(const PlannedRod *rod, const Action *step)
{
    bool is_laid_on = step->kind == ACTION_PART && !rod->rod->parts[step->part].diameter_count;
    for (int row = 0; row < DANGERS_AT_WORK; row++)
        for (int i = 0; i < dangers_at_work[row].count; i++)
            if (step->kind == dangers_at_work[row].kinds[i])
                return step->by_hand || is_laid_on ? DANGERS_AT_WORK : row;
    return DANGERS_AT_WORK;
}

/* From the step of that number on, each danger is said where it is met first, and nowhere else. */
static void read_cautions(const Sheet *sheet, uint32_t from, bool met[])
{
    bool said[DANGERS_AT_WORK + 1] = {[DANGERS_AT_WORK] = true};
    for (uint32_t r = 0; r < sheet->rod_count; r++)
        for (uint32_t i = 0; i < sheet->rods[r].action_count; i++) {
            const SheetAction *shown = &sheet->rods[r].actions[i];
            int row = danger_row(sheet->rods[r].bench->rod, shown->action);
            bool wanted = !said[row] && shown->step >= from;
            if (wanted != (*shown->caution != '\0') || (wanted && !starts_with(shown->caution, "Caution: "))
                || (wanted && !holds_words(shown->caution, dangers_at_work[row].words)))
                fail_msg("at \"%s\": \"%s\"", shown->says, shown->caution);
            said[row] |= wanted;
            met[row] |= wanted;
        }
}

static void test_cautions_at_the_work(void **state)
{
    (void)state;
    bool met[DANGERS_AT_WORK + 1] = {false};
    for (int i = 0; i < TEXT_COUNT; i++) {
        Made made = make(texts[i]);
        read_cautions(made.sheet, 1, met);
        uint32_t last = 0;
        for (uint32_t r = 0; r < made.sheet->rod_count; r++)
            last += made.sheet->rods[r].step_count;
        sheet_cautions(&made.compilation->arena, made.sheet, last / 2);
        read_cautions(made.sheet, last / 2, met);
        turnlay_free(made.compilation);
    }
    for (int row = 0; row < DANGERS_AT_WORK; row++)
        if (!met[row])
            fail_msg("never met: %s", dangers_at_work[row].words[0]);
}

/* What a finger has to hold until turns do is told of that, and of nothing else. */
static void test_fingers_are_told(void **state)
{
    (void)state;
    static const struct {
        ActionKind kind;
        HeldThing thing;
    } kinds[] = {{ACTION_START, THING_TAG}, {ACTION_LAY_LOOP, THING_LOOP}, {ACTION_LAY_END, THING_END}};
    unsigned met[3][2] = {{0}};
    for (int i = 0; i < TEXT_COUNT; i++) {
        Made made = make(texts[i]);
        for (uint32_t a = 0; a < made.sheet->rods[0].action_count; a++) {
            const SheetAction *shown = &made.sheet->rods[0].actions[a];
            const Action *action = shown->action;
            for (int k = 0; k < 3; k++) {
                if (kinds[k].kind != action->kind)
                    continue;
                const Action *wound = action + 1; /* the first turns over it */
                while (wound->kind != ACTION_WIND)
                    wound++;
                bool finger = false;
                for (uint32_t h = 0; h < wound[-1].state.held_count; h++)
                    finger |= wound[-1].state.held[h].thing == kinds[k].thing
                              && wound[-1].state.held[h].piece == action->piece
                              && wound[-1].state.held[h].by == BY_FINGER;
                if (finger != (strstr(shown->detail, "finger until") != NULL))
                    fail_msg("%s: %s", shown->says, shown->detail);
                const Action *taped = action + 1; /* before turns hold it */
                while (taped->kind != ACTION_TRIM_TAG && taped->kind != ACTION_TRIM_END
                       && taped->kind != ACTION_PULL_THROUGH && taped->kind != ACTION_TAKE_SPACER
                       && !(taped->kind == ACTION_TAPE_DOWN && taped->piece == action->piece
                            && taped->thing == kinds[k].thing))
                    taped++;
                if (finger
                    && (taped->kind == ACTION_TAPE_DOWN) != (strstr(shown->detail, "until it is taped") != NULL))
                    fail_msg("%s: %s", shown->says, shown->detail);
                met[k][finger]++;
            }
        }
        turnlay_free(made.compilation);
    }
    for (int k = 0; k < 3; k++)
        assert_true(met[k][false] && met[k][true]);
}

static unsigned times(const char *text, const char *words)
{
    unsigned count = 0;
    for (const char *at = strstr(text, words); at; at = strstr(at + 1, words))
        count++;
    return count;
}

/* Gloves and fresh air: once at every step that needs them, by its caution or by itself. */
static void test_gloves_are_said_once(void **state)
{
    (void)state;
    unsigned met[2] = {0};
    for (int i = 0; i < TEXT_COUNT; i++) {
        Made made = make(texts[i]);
        for (uint32_t s = 0; s < made.sheet->rods[0].step_count; s++) {
            const SheetStep *step = &made.sheet->rods[0].steps[s];
            ActionKind kind = made.sheet->rods[0].actions[step->first].action->kind;
            if (kind != ACTION_SEAL && kind != ACTION_COAT)
                continue;
            unsigned in_note = times(step->note, "Gloves and fresh air"),
                     in_caution = times(step->caution, "gloves and fresh air");
            if (in_note + in_caution != 1)
                fail_msg("%s: %s %s", step->says, step->note, step->caution);
            met[in_note]++;
        }
        turnlay_free(made.compilation);
    }
    assert_true(met[0] >= TEXT_COUNT && met[1] >= TEXT_COUNT);
}

/* Without its line breaks and the room before its lines. */
static char *flattened(char *page)
{
    char *end = page;
    for (const char *at = page; *at; at++)
        if (*at != '\n' && (*at != ' ' || (end > page && end[-1] != ' ')))
            *end++ = *at;
        else if (*at == '\n' && end > page && end[-1] != ' ')
            *end++ = ' ';
    *end = '\0';
    return page;
}

/* On paper: tests/pdf. */
static void test_pages_show_cautions(void **state)
{
    (void)state;
    Made made = make(texts[0]);
    Buffer html;
    buffer_start(&html, &made.compilation->arena);
    emit_sheet_html(&html, made.sheet, made.compilation->plan, 1);
    buffer_put(&html, "", 1);
    char *text = flattened(strdup(text_from(&made, 1)));
    unsigned shown = 0, several = 0;
    for (uint32_t i = 0; i < made.sheet->rods[0].step_count; i++) {
        const char *caution = made.sheet->rods[0].steps[i].caution;
        /* Each danger a line, the word once. */
        assert_int_equal(times(caution, "Caution: "), *caution != '\0');
        bool first = true;
        while (*caution) {
            const char *one = text_line(&made.compilation->arena, &caution);
            several += !first;
            assert_true(first ? starts_with(one, "Caution: ") : *one >= 'A' && *one <= 'Z');
            first = false;
            assert_says(text, one);
            Buffer paragraph;
            buffer_start(&paragraph, &made.compilation->arena);
            html_element(&paragraph, "p", "caution", one);
            buffer_put(&paragraph, "", 1);
            assert_says(html.bytes, paragraph.bytes);
            shown++;
        }
    }
    assert_true(shown > 4 && several > 0);
    free(text);
    turnlay_free(made.compilation);
}

/* Moves on behind the words, which have to come before the next step does. */
static void read_on(const char **text, const char *words, const char *next, const SheetStep *step)
{
    if (!*words)
        return;
    const char *at = strstr(*text, words), *end = strstr(*text, next);
    if (!at || (end && at > end))
        fail_msg("step %u, %s: not shown: %s", step->number, step->says, words);
    *text = at + strlen(words);
}

static const char *paragraph(Arena *arena, const char *of, const char *words)
{
    Buffer out;
    buffer_start(&out, arena);
    html_element(&out, "p", of, words);
    buffer_put(&out, "", 1);
    return out.bytes;
}

/* Number, action, facts, note, cautions, room for a width, how to stop: as text and as page, step by step. */
static void test_pages_show_all_of_a_step(void **state)
{
    (void)state;
    Made made = make(
        THREADS
        "bench { measure: 50 turns }\nrod \"All\" on tube { at 10 cm { band 130 turns of navy { inlay 2 turns of mist at: 1/2 } } }\n");
    Arena *arena = &made.compilation->arena;
    Buffer html;
    buffer_start(&html, arena);
    emit_sheet_html(&html, made.sheet, made.compilation->plan, 1);
    buffer_put(&html, "", 1);
    char *flat = flattened(strdup(text_from(&made, 1)));
    const char *text = flat, *page = html.bytes;
    unsigned measured = 0, stops = 0, clocks = 0;
    for (uint32_t i = 0; i < made.sheet->rods[0].step_count; i++) {
        const SheetStep *step = &made.sheet->rods[0].steps[i];
        const char *next = "<li class=\"card step";
        read_on(&text, text_format(arena, "[ ] %u %s", step->number, step->says), "[ ] 999 ", step);
        read_on(&text, step->progress, "[ ] ", step);
        read_on(&text, step->where, "[ ] ", step);
        read_on(&text, step->clock, "[ ] ", step);
        read_on(&text, step->note, "[ ] ", step);
        read_on(&text, step->measure ? "measured: ______________ mm" : "", "[ ] ", step);
        read_on(&text, step->stop ? text_format(arena, "-- %s --", step->stop) : "", "[ ] ", step);
        read_on(&page, next, "<li class=\"place", step);
        read_on(&page, paragraph(arena, "action", step->says), next, step);
        read_on(&page, paragraph(arena, "detail", step->note), next, step);
        read_on(&page, paragraph(arena, "where", step->where), next, step);
        read_on(&page, paragraph(arena, "running", step->progress), next, step);
        read_on(&page, paragraph(arena, "clock", step->clock), next, step);
        read_on(&page, step->measure ? "<p class=\"write\">Measured width:</p>" : "", next, step);
        read_on(&page, step->stop ? paragraph(arena, "pause", step->stop) : "", next, step);
        measured += step->measure;
        stops += step->stop != NULL;
        clocks += *step->clock != '\0';
    }
    assert_int_equal(times(flat, "measured: "), measured);
    assert_int_equal(times(flat, "-- Safe to stop"), stops);
    assert_int_equal(times(html.bytes, "Measured width:"), measured);
    assert_int_equal(times(html.bytes, "<p class=\"pause\""), stops);
    assert_true(measured > 1 && stops && clocks);
    free(flat);
    turnlay_free(made.compilation);
}

/* A section's sheet is printed alone: what the sheet of the whole rod says before it is said in it, too. */
static void test_cautions_of_a_section(void **state)
{
    (void)state;
    Made made = make(THREADS "blank end { at 0 mm: 6 mm  at 60 cm: 4 mm }\n"
                             "rod \"Two\" on [tube, end] { at 20 cm { band 60 turns of navy }"
                             " at 20 cm from: tip { band 60 turns of navy } }\n");
    bool met[DANGERS_AT_WORK + 1] = {false};
    sheet_keep_section(&made.compilation->arena, made.sheet, "end");
    const SheetRod *rod = &made.sheet->rods[0];
    for (uint32_t i = rod->sections[0].first_action; i < rod->action_count; i++)
        met[danger_row(rod->bench->rod, rod->actions[i].action)] |= *rod->actions[i].caution != '\0';
    assert_true(met[0] && met[3] && met[4]);
    turnlay_free(made.compilation);
}

/* What is measured from the tip counts from the end of the blank, which a tip-top hides. */
static void test_the_bare_tip(void **state)
{
    (void)state;
    static const char parts[] = "part grip at 0 cm length: 5 cm { diameter: 20 mm }\n"
                                "part ring at 99 cm length: 9 mm { diameter: 6 mm }\n"
                                "part top at 99.9 cm length: 1 mm { diameter: 5 mm }\n";
    for (int from_tip = 0; from_tip < 2; from_tip++) {
        char text[1024];
        snprintf(text, sizeof text, THREADS "rod \"R\" on tube { %s at 40 cm %s { band 60 turns of navy } }\n",
                 parts, from_tip ? "from: tip" : "");
        Made made = make(text);
        static const char *const says[] = {"Put grip on: 0 to 5 cm from the butt",
                                           "Put ring on: 99 to 99.9 cm from the butt",
                                           "Put top on: 99.9 to 100 cm from the butt"};
        for (int i = 0; i < 3; i++)
            assert_int_equal(strstr(step_saying(&made, says[i])->detail, "hides the bare tip") != NULL,
                             from_tip && i == 2);
        assert_int_equal(strstr(made.sheet->orientation, "The bare tip is the end of the blank itself") != NULL,
                         from_tip);
        turnlay_free(made.compilation);
    }
}

/* How a mark is made is said at the first of each rod. */
static void test_marks_are_explained_once(void **state)
{
    (void)state;
    static const char rod[] = "{ at 40 cm { band 60 turns of navy }  at 50 cm { band 60 turns of navy } }\n";
    char text[1024];
    snprintf(text, sizeof text, THREADS "rod \"A\" on tube %srod \"B\" on tube %s", rod, rod);
    Made made = make(text);
    for (uint32_t r = 0; r < 2; r++) {
        int marks = 0;
        for (uint32_t i = 0; i < made.sheet->rods[r].action_count; i++) {
            const SheetAction *shown = &made.sheet->rods[r].actions[i];
            if (shown->action->kind == ACTION_MARK)
                assert_int_equal(strstr(shown->detail, "never with a point") != NULL, marks++ == 0);
        }
        assert_int_equal(marks, 2);
    }
    turnlay_free(made.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_advice),
        cmocka_unit_test(test_facts_of_every_kind),
        cmocka_unit_test(test_cautions),
        cmocka_unit_test(test_cautions_at_the_work),
        cmocka_unit_test(test_fingers_are_told),
        cmocka_unit_test(test_gloves_are_said_once),
        cmocka_unit_test(test_pages_show_cautions),
        cmocka_unit_test(test_pages_show_all_of_a_step),
        cmocka_unit_test(test_cautions_of_a_section),
        cmocka_unit_test(test_the_bare_tip),
        cmocka_unit_test(test_marks_are_explained_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
