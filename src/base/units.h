/* Units of measure: what the scanner reads and what the pages print. One table. */
#ifndef TURNLAY_BASE_UNITS_H
#define TURNLAY_BASE_UNITS_H

#include "base/buffer.h"

/* name, spelling, kind, factor to mm / turns / degrees / one; the system that lengths are printed in where
 * places are written in such a unit (base/lengths.h): for yards and feet inches, for metres cm and mm.
 * 1 in = 25.4 mm, 1 ft = 304.8 mm, 1 yd = 914.4 mm exactly: international yard and pound
 * agreement of 1959, also 16 CFR 500.19. */
#define UNIT_TABLE(X)                                                                                             \
    X(UNIT_NONE, "", MEASURE_NUMBER, 1.0, SYSTEM_MM)                                                              \
    X(UNIT_MM, "mm", MEASURE_LENGTH, 1.0, SYSTEM_MM)                                                              \
    X(UNIT_CM, "cm", MEASURE_LENGTH, 10.0, SYSTEM_CM_AND_MM)                                                      \
    X(UNIT_M, "m", MEASURE_LENGTH, 1000.0, SYSTEM_CM_AND_MM)                                                      \
    X(UNIT_IN, "in", MEASURE_LENGTH, 25.4, SYSTEM_IN)                                                             \
    X(UNIT_FT, "ft", MEASURE_LENGTH, 304.8, SYSTEM_IN)                                                            \
    X(UNIT_YD, "yd", MEASURE_LENGTH, 914.4, SYSTEM_IN)                                                            \
    X(UNIT_TURNS, "turns", MEASURE_TURNS, 1.0, SYSTEM_MM)                                                         \
    X(UNIT_TURN, "turn", MEASURE_TURNS, 1.0, SYSTEM_MM)                                                           \
    X(UNIT_DEG, "deg", MEASURE_ANGLE, 1.0, SYSTEM_MM)                                                             \
    X(UNIT_PERCENT, "%", MEASURE_RATIO, 0.01, SYSTEM_MM)                                                          \
    X(UNIT_UNKNOWN, "?", MEASURE_UNKNOWN, 1.0, SYSTEM_MM) /* a word that is no unit; already reported */

typedef enum {
    MEASURE_NUMBER,
    MEASURE_LENGTH,
    MEASURE_TURNS,
    MEASURE_ANGLE,
    MEASURE_RATIO,
    MEASURE_UNKNOWN
} Measure;

typedef enum {
#define X(name, ...) name,
    UNIT_TABLE(X)
#undef X
        UNIT_COUNT
} Unit;

const char *unit_spelling(Unit unit);
Measure unit_measure(Unit unit);
double unit_factor(Unit unit);

/* In which units lengths are printed: said by bench { units: }, or else as the file's places are written. Only
 * what has a word can be said: whoever says nothing and has places in centimetres has them so in print, and widths
 * in mm.
 */
#define SYSTEM_TABLE(X)                                                                                           \
    X(MM, "mm")                                                                                                   \
    X(CM, "cm")                                                                                                   \
    X(IN, "in")                                                                                                   \
    X(CM_AND_MM, NULL)

typedef enum {
#define X(name, ...) SYSTEM_##name,
    SYSTEM_TABLE(X)
#undef X
        SYSTEM_COUNT
} UnitSystem;
UnitSystem unit_system(Unit unit);

/* "1 turn", "12 turns", "2.5 turns". */
const char *show_turns(Arena *arena, double turns);
/* A whole number as people read it: "5,000,000". */
const char *show_count(Arena *arena, uint64_t count);
/* A plain number with at most so many decimals. */
const char *show_number(Arena *arena, double value, int decimals);

#endif
