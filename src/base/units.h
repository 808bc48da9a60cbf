/* Units of measure: what the scanner reads and what the pages print. One table. */
#ifndef TURNLAY_BASE_UNITS_H
#define TURNLAY_BASE_UNITS_H

#include "base/arena.h"
#include "base/buffer.h"

/* name, spelling, kind, factor to mm / turns / degrees / one; the system that lengths are printed in where such a
 * unit comes first: after yards and feet inches, after metres millimetres.
 * 1 in = 25.4 mm, 1 ft = 304.8 mm, 1 yd = 914.4 mm exactly: international yard and pound
 * agreement of 1959, also 16 CFR 500.19. */
#define UNIT_TABLE(X)                                                                                             \
    X(UNIT_NONE, "", MEASURE_NUMBER, 1.0, SYSTEM_MM)                                                              \
    X(UNIT_MM, "mm", MEASURE_LENGTH, 1.0, SYSTEM_MM)                                                              \
    X(UNIT_CM, "cm", MEASURE_LENGTH, 10.0, SYSTEM_CM)                                                             \
    X(UNIT_M, "m", MEASURE_LENGTH, 1000.0, SYSTEM_MM)                                                             \
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

/* In which units lengths are printed: bench { units: }, or those of the file's first length. Name, unit, what that
 * is called; then how it prints a blank's length (mm in the unit, decimals), a thread's thickness (decimals, unit,
 * mm in it) and a thread's length (unit, mm in it). */
#define SYSTEM_TABLE(X)                                                                                           \
    X(MM, "mm", "millimetres", 1, 2, 3, "mm", 1, "m", 1000)                                                       \
    X(CM, "cm", "centimetres", 10, 3, 3, "mm", 1, "m", 1000)                                                      \
    X(IN, "in", "inches", 25.4, 3, 4, "in", 25.4, "yd", 914.4)

typedef enum {
#define X(name, ...) SYSTEM_##name,
    SYSTEM_TABLE(X)
#undef X
        SYSTEM_COUNT
} UnitSystem;
UnitSystem unit_system(Unit unit);

/* "12.35 mm", "1.235 cm" or "31/64 in (0.486 in)": a length of the blank or of a wrap, to 0.01 mm
 * or the nearest 1/64 in with the decimal to 0.001 in beside it. */
void put_length(Buffer *buffer, UnitSystem system, double mm);
/* The same as a string in the arena. */
const char *show_length(Arena *arena, UnitSystem system, double mm);
/* Thread thickness and pitch: "0.150 mm" or "0.0059 in". */
const char *show_fine(Arena *arena, UnitSystem system, double mm);
/* Thread to cut or buy: "3.19 m" or "3.49 yd". */
const char *show_thread_length(Arena *arena, UnitSystem system, double mm);
/* mm of the last digit of that, of what put_length_bare and of what show_fine writes. */
double thread_length_step(UnitSystem system);
double length_step(UnitSystem system);
double fine_step(UnitSystem system);
/* The decimal in the system's unit alone, no unit written, so many digits as put_length: for columns. */
void put_length_bare(Buffer *buffer, UnitSystem system, double mm);
/* "0.04 mm", "0.005 in": the same with its unit. */
const char *show_decimal(Arena *arena, UnitSystem system, double mm);
/* "mm", "cm" or "in". */
const char *system_unit(UnitSystem system);
/* "millimetres" */
const char *system_name(UnitSystem system);
/* "1 turn", "12 turns", "2.5 turns". */
const char *show_turns(Arena *arena, double turns);
/* As source text that reads back the same: "54.27 mm", "0.4886 in". For mends. */
const char *source_length(Arena *arena, UnitSystem system, double mm);
/* What is written there: mm in the system's unit, and to how many decimals of it. */
double system_mm(UnitSystem system);
int source_decimals(UnitSystem system);
/* A whole number as people read it: "5,000,000". */
const char *show_count(Arena *arena, uint64_t count);
/* A plain number with at most so many decimals. */
const char *show_number(Arena *arena, double value, int decimals);

#endif
