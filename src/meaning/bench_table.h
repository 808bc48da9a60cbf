/* The options of `bench { }`, one row each: from here come their numbers, names, kinds, ranges and what they are
 * if left out. */
#ifndef TURNLAY_MEANING_BENCH_TABLE_H
#define TURNLAY_MEANING_BENCH_TABLE_H

/* NUMBER: name, word, kind, least, most, if left out. CHOICE: name, word, choices (of option.c). SWITCH: name,
 * word, field of Bench, if left out. All ranges and all that counts if left out: common practice, no source. But
 * the range of `friction` is published: ASTM D3108-07, Standard Test Method for Coefficient of Friction, Yarn to
 * Solid Material (2007), scope 1.5, has been applied to yarns of 10 to 80 tex with coefficients of 0.1 to 0.5.
 * (Its 0.2 if left out is common practice, no source.) Ranges are wide but for `bind`: who leaves one has mistaken
 * a unit. */
#define BENCH_TABLE(NUMBER, CHOICE, SWITCH)                                                                       \
    CHOICE(UNITS, "units", systems)                                                                               \
    NUMBER(BIND, "bind", TURNS, 4, 10, 6)                                                                         \
    NUMBER(LOOP, "loop", TURNS, 2, 20, 4)                                                                         \
    NUMBER(FINAL, "final", TURNS, 2, 40, 8)                                                                       \
    NUMBER(FREE, "free", LENGTH, 10, 1000, 150)                                                                   \
    NUMBER(TOLERANCE, "tolerance", LENGTH, 0.01, 100, 0.5)                                                        \
    NUMBER(RULE, "rule", LENGTH, 0.1, 6.35, NAN)                                                                  \
    NUMBER(CALLIPERS, "callipers", LENGTH, 0.01, 1.27, NAN)                                                       \
    NUMBER(HAND, "hand", LENGTH, 100, 100000, 1500)                                                               \
    NUMBER(CARRY, "carry", TURNS, 1, 200, 15)                                                                     \
    NUMBER(RIDGE, "ridge", COUNT, 1, 100, 3)                                                                      \
    NUMBER(APART, "apart", LENGTH, 0.1, 100, 0.5)                                                                 \
    NUMBER(FRICTION, "friction", RATIO, 0.1, 0.5, 0.2)                                                            \
    NUMBER(MEASURE, "measure", TURNS, 1, 1e6, NAN)                                                                \
    NUMBER(READING, "reading", LENGTH, 0.01, 5, 0.15)                                                             \
    NUMBER(VARIES, "varies", RATIO, 0, 0.2, 0.01)                                                                 \
    NUMBER(COAT, "coat", LENGTH, 0.01, 5, 0.25)                                                                   \
    NUMBER(SPEED, "speed", COUNT, 1, 10000, 60)                                                                   \
    NUMBER(HANDLING, "handling", COUNT, 0, 3600, 60)                                                              \
    NUMBER(HOLDERS, "holders", COUNT, 1, 16, 2)                                                                   \
    NUMBER(BOBBINS, "bobbins", COUNT, 0, 8, 0)                                                                    \
    NUMBER(PACK, "pack", TURNS, 4, 1000, 40)                                                                      \
    NUMBER(COATS, "coats", COUNT, 0, 10, 2)                                                                       \
    NUMBER(FLATTEST, "flattest", ANGLE, 1, 89, 10)                                                                \
    NUMBER(STEEPEST, "steepest", ANGLE, 1, 89, 70)                                                                \
    NUMBER(STACK, "stack", COUNT, 2, 100, 6)                                                                      \
    NUMBER(SHORTEST, "shortest", TURNS, 1, 20, 1)                                                                 \
    NUMBER(PAPER, "paper", LENGTH, 0, 2, 0.1)                                                                     \
    NUMBER(SIGHT, "sight", RATIO, 0.1, 10, 0.5)                                                                   \
    NUMBER(NEAR, "near", LENGTH, 100, 20000, 600)                                                                 \
    NUMBER(FAR, "far", LENGTH, 100, 20000, 2000)                                                                  \
    NUMBER(JUMP, "jump", RATIO, 0.1, 100, 3)                                                                      \
    NUMBER(ALIKE, "alike", RATIO, 0, 100, 2)                                                                      \
    CHOICE(ENDS, "ends", end_holds)                                                                               \
    CHOICE(LEFT, "left", ends)                                                                                    \
    CHOICE(ROTATION, "rotation", rotations)                                                                       \
    CHOICE(LINE, "line", lines)                                                                                   \
    CHOICE(ORDER, "order", orders)                                                                                \
    SWITCH(CLEAN, "clean", clean, true)                                                                           \
    SWITCH(WIPE, "wipe", wipe, true)                                                                              \
    CHOICE(DRIVE, "drive", drives)                                                                                \
    CHOICE(PREFER, "prefer", preferences)                                                                         \
    SWITCH(BRAKE, "brake", brake, true)                                                                           \
    SWITCH(DRESS, "dress", dress, true)                                                                           \
    SWITCH(TAPE, "tape", tape, true)                                                                              \
    SWITCH(ALIGN, "align", align, true)                                                                           \
    SWITCH(SEAL, "seal", seal, false)                                                                             \
    SWITCH(SINGE, "singe", singe, true)                                                                           \
    SWITCH(LOCK, "lock", lock, false)

typedef enum {
#define X(name, ...) BENCH_##name,
    BENCH_TABLE(X, X, X)
#undef X
        BENCH_OPTION_COUNT
} BenchOption;

#endif
