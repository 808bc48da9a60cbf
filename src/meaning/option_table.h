/* The options of all statements and declarations but `bench { }` (bench_table.h), one row each: from here come
 * their numbers and their rules. */
#ifndef TURNLAY_MEANING_OPTION_TABLE_H
#define TURNLAY_MEANING_OPTION_TABLE_H

#include "base/table.h"

/* Number, then as OptionRule: name, kinds of value, choices (of option.c), whether it has to be there. */
#define ABOUT_OPTIONS(X)                                                                                          \
    X(ABOUT_TITLE, "title", SET(TYPE_TEXT), NULL, false)                                                          \
    X(ABOUT_AUTHOR, "author", SET(TYPE_TEXT), NULL, false)                                                        \
    X(ABOUT_VERSION, "version", SET(TYPE_TEXT), NULL, false)                                                      \
    X(ABOUT_LICENCE, "licence", SET(TYPE_TEXT), NULL, false)

#define SIZE_OPTIONS(X)                                                                                           \
    X(SIZE_DIAMETER, "diameter", SET(TYPE_LENGTH), NULL, true)                                                    \
    X(SIZE_UNCERTAINTY, "uncertainty", SET(TYPE_RATIO), NULL, false)

#define THREAD_OPTIONS(X)                                                                                         \
    X(THREAD_TURNS, "turns", SET(TYPE_RATE) | SET(TYPE_LIST + TYPE_RATE), NULL, false)                            \
    X(THREAD_DIAMETER, "diameter", SET(TYPE_LENGTH), NULL, false)                                                 \
    X(THREAD_SIZE, "size", SET(TYPE_WORD), NULL, false)                                                           \
    X(THREAD_TEX, "tex", SET(TYPE_RATIO), NULL, false)                                                            \
    X(THREAD_FIBRE, "fibre", SET(TYPE_WORD), fibres, false)                                                       \
    X(THREAD_FULLNESS, "fullness", SET(TYPE_RATIO), NULL, false)                                                  \
    X(THREAD_PACKING, "packing", SET(TYPE_RATIO), NULL, false)                                                    \
    X(THREAD_UNCERTAINTY, "uncertainty", SET(TYPE_RATIO), NULL, false)                                            \
    X(THREAD_COLOUR, "colour", SET(TYPE_COLOUR), NULL, false)                                                     \
    X(THREAD_BARE, "bare", SET(TYPE_COLOUR), NULL, false)                                                         \
    X(THREAD_COLOURS, "colours", SET(TYPE_LIST + TYPE_COLOUR), NULL, false)                                       \
    X(THREAD_PERIOD, "period", SET(TYPE_LENGTH), NULL, false)                                                     \
    X(THREAD_OPACITY, "opacity", SET(TYPE_RATIO), NULL, false)                                                    \
    X(THREAD_SHEEN, "sheen", SET(TYPE_WORD), sheens, false)                                                       \
    X(THREAD_CODE, "code", SET(TYPE_TEXT), NULL, false)                                                           \
    X(THREAD_PRESERVER, "preserver", SET(TYPE_TRUTH), NULL, false)                                                \
    X(THREAD_STOCK, "stock", SET(TYPE_LENGTH), NULL, false)                                                       \
    X(THREAD_SPOOL, "spool", SET(TYPE_LENGTH), NULL, false)                                                       \
    X(THREAD_PRICE, "price", SET(TYPE_RATIO), NULL, false)

#define GUIDE_OPTIONS(X)                                                                                          \
    X(GUIDE_FOOT, "foot", SET(TYPE_LENGTH) | SET(TYPE_LIST + TYPE_LENGTH), NULL, true)                            \
    X(GUIDE_GAP, "gap", SET(TYPE_LENGTH), NULL, false)                                                            \
    X(GUIDE_SIDE, "side", SET(TYPE_WORD), ends, false)                                                            \
    X(GUIDE_WIDTH, "width", SET(TYPE_LENGTH), NULL, false)                                                        \
    X(GUIDE_HEIGHT, "height", SET(TYPE_LENGTH), NULL, false)                                                      \
    X(GUIDE_RAMP, "ramp", SET(TYPE_LENGTH), NULL, false)                                                          \
    X(GUIDE_BEFORE, "before", SET(TYPE_LENGTH), NULL, false)                                                      \
    X(GUIDE_RING, "ring", SET(TYPE_LENGTH), NULL, false)                                                          \
    X(GUIDE_TALL, "tall", SET(TYPE_LENGTH), NULL, false)                                                          \
    X(GUIDE_FRAME, "frame", SET(TYPE_COLOUR), NULL, false)                                                        \
    X(GUIDE_INSERT, "insert", SET(TYPE_COLOUR), NULL, false)                                                      \
    X(GUIDE_SHEEN, "sheen", SET(TYPE_WORD), sheens, false)

#define ROD_OPTIONS(X)                                                                                            \
    X(ROD_OVERLAP, "overlap", SET(TYPE_LENGTH) | SET(TYPE_LIST + TYPE_LENGTH), NULL, false)                       \
    X(ROD_INSIDE, "inside", SET(TYPE_WORD), ends, false)
#define BLANK_OPTIONS(X)                                                                                          \
    X(BLANK_COLOUR, "colour", SET(TYPE_COLOUR), NULL, false)                                                      \
    X(BLANK_SHEEN, "sheen", SET(TYPE_WORD), sheens, false)

#define PLACE_OPTIONS(X)                                                                                          \
    X(PLACE_FROM, "from", SET(TYPE_WORD), ends, false)                                                            \
    X(PLACE_TOWARD, "toward", SET(TYPE_WORD), ends, false)                                                        \
    X(PLACE_LENGTH, "length", SET(TYPE_LENGTH), NULL, false)                                                      \
    X(PLACE_UNTIL, "until", SET(TYPE_LENGTH), NULL, false)                                                        \
    X(PLACE_GUIDE, "guide", SET(TYPE_GUIDE), NULL, false)                                                         \
    X(PLACE_ANGLE, "angle", SET(TYPE_ANGLE), NULL, false)

/* Behind those of its places: what sets them out by rule. */
#define SERIES_OPTIONS(X)                                                                                         \
    X(SERIES_FIRST, "first", SET(TYPE_LENGTH), NULL, false)                                                       \
    X(SERIES_LAST, "last", SET(TYPE_LENGTH), NULL, false)                                                         \
    X(SERIES_PROGRESSION, "progression", SET(TYPE_RATIO), NULL, false)                                            \
    X(SERIES_GUIDES, "guides", SET(TYPE_LIST + TYPE_GUIDE), NULL, false)                                          \
    X(SERIES_COUNT, "count", SET(TYPE_COUNT), NULL, false)
#define PART_OPTIONS(X)                                                                                           \
    X(PART_FROM, "from", SET(TYPE_WORD), ends, false)                                                             \
    X(PART_TOWARD, "toward", SET(TYPE_WORD), ends, false)                                                         \
    X(PART_LENGTH, "length", SET(TYPE_LENGTH), NULL, false)                                                       \
    X(PART_UNTIL, "until", SET(TYPE_LENGTH), NULL, false)                                                         \
    X(PART_DIAMETER, "diameter", SET(TYPE_LENGTH) | SET(TYPE_LIST + TYPE_LENGTH), NULL, false)                    \
    X(PART_COLOUR, "colour", SET(TYPE_COLOUR), NULL, false)                                                       \
    X(PART_SHEEN, "sheen", SET(TYPE_WORD), sheens, false)                                                         \
    X(PART_SLIDES, "slides", SET(TYPE_TRUTH), NULL, false)                                                        \
    X(PART_WRAPPED, "wrapped", SET(TYPE_TRUTH), NULL, false)                                                      \
    X(PART_NOTE, "note", SET(TYPE_TEXT), NULL, false)

#define LAYER_OPTIONS(X)                                                                                          \
    X(LAYER_OFFSET, "offset", SET(TYPE_LENGTH), NULL, false)                                                      \
    X(LAYER_LENGTH, "length", SET(TYPE_LENGTH), NULL, false)

#define BAND_OPTIONS(X)                                                                                           \
    X(BAND_WEIGHT, "weight", SET(TYPE_RATIO), NULL, false)                                                        \
    X(BAND_MEASURED, "measured", SET(TYPE_LENGTH), NULL, false)

#define INLAY_OPTIONS(X)                                                                                          \
    X(INLAY_AT, "at", SET(TYPE_RATIO) | SET(TYPE_LENGTH) | SET(TYPE_TURNS), NULL, false)                          \
    X(INLAY_EVERY, "every", SET(TYPE_LENGTH) | SET(TYPE_TURNS), NULL, false)

/* `runs` comes last: a fade of several threads has none. */
#define FADE_OPTIONS(X)                                                                                           \
    X(FADE_OPTION_STEPS, "steps", SET(TYPE_COUNT), NULL, false)                                                   \
    X(FADE_OPTION_OVER, "over", SET(TYPE_LENGTH) | SET(TYPE_TURNS), NULL, false)                                  \
    X(FADE_OPTION_BY, "by", SET(TYPE_WORD), fade_choices, false)                                                  \
    X(FADE_OPTION_RUNS, "runs", SET(TYPE_LIST + TYPE_PAIR), NULL, false)

/* Those that all crosswraps share come first, then those of chevrons and diamonds, the chevron's own last; or a
 * spiral's. */
#define CROSSWRAP_OPTIONS(X)                                                                                      \
    X(CROSSWRAP_ENDS, "ends", SET(TYPE_TURNS) | SET(TYPE_LENGTH), NULL, false)                                    \
    X(CROSSWRAP_ANGLE, "angle", SET(TYPE_ANGLE), NULL, false)                                                     \
    X(CROSSWRAP_STARTS, "starts", SET(TYPE_COUNT), NULL, false)                                                   \
    X(CROSSWRAP_FIELD, "field", SET(TYPE_WORD), fields, false)

#define CROSSING_OPTIONS(X)                                                                                       \
    X(CROSSWRAP_CROSSINGS, "crossings", SET(TYPE_COUNT), NULL, false)                                             \
    X(CROSSWRAP_SPACING, "spacing", SET(TYPE_LENGTH), NULL, false)                                                \
    X(CROSSWRAP_LEADS, "leads", SET(TYPE_LIST + TYPE_COUNT), NULL, false)                                         \
    X(CROSSWRAP_FACING, "facing", SET(TYPE_COUNT), NULL, false)                                                   \
    X(CHEVRON_POINTING, "pointing", SET(TYPE_WORD), ends, false)

/* Words of before that are still read: whose option, its name, the option it is now; word by word what was written
 * and what is. */
#define OLD_OPTIONS(X)                                                                                            \
    X(NODE_CHEVRON, "build", CHEVRON_POINTING, "up", "tip")                                                       \
    X(NODE_CHEVRON, "build", CHEVRON_POINTING, "down", "butt")

#define SPIRAL_OPTIONS(X)                                                                                         \
    X(SPIRAL_TURNS, "turns", SET(TYPE_TURNS), NULL, false)                                                        \
    X(SPIRAL_LEAD, "lead", SET(TYPE_LENGTH), NULL, false)

#define X(name, ...) name,
enum { ABOUT_OPTIONS(X) };
enum { SIZE_OPTIONS(X) };
enum { THREAD_OPTIONS(X) };
enum { GUIDE_OPTIONS(X) };
enum { ROD_OPTIONS(X) };
enum { BLANK_OPTIONS(X) };
enum { PLACE_OPTIONS(X) };
enum { PLACE_LAST = PLACE_ANGLE, SERIES_OPTIONS(X) };
enum { PART_OPTIONS(X) };
enum { LAYER_OPTIONS(X) };
enum { BAND_OPTIONS(X) };
enum { INLAY_OPTIONS(X) };
enum { FADE_OPTIONS(X) };
enum { CROSSWRAP_OPTIONS(X) CROSSING_OPTIONS(X) };
enum { LAST_SHARED = CROSSWRAP_FIELD, SPIRAL_OPTIONS(X) };
_Static_assert(TABLE_ROWS(CROSSWRAP_OPTIONS) == CROSSWRAP_FIELD + 1, "what crosswraps share comes first");
#undef X

/* The fibres that a thread may be of: word; density in g/cm3 at 65 % humidity. W. E. Morton and J. W. S. Hearle,
 * Physical Properties of Textile Fibres, 4th ed. (Woodhead, 2008), section 5.3, table 5.1, aramid table 5.2:
 * published. */
#define FIBRE_TABLE(X)                                                                                            \
    X("nylon", 1.14)                                                                                              \
    X("polyester", 1.39)                                                                                          \
    X("silk", 1.34)                                                                                               \
    X("viscose", 1.49)                                                                                            \
    X("cotton", 1.52)                                                                                             \
    X("polypropylene", 0.91)                                                                                      \
    X("aramid", 1.44)

#endif
