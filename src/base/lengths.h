/* Lengths as pages print them and as mends write them. One table says in which unit, and to how many digits. */
#ifndef TURNLAY_BASE_LENGTHS_H
#define TURNLAY_BASE_LENGTHS_H

#include "base/units.h"

/* What a length is of, and how it is printed where the bench is in mm, in cm throughout, in inches, and in cm and
 * mm (the order of SYSTEM_TABLE): unit, digits after the point, style. What is measured with a ruler is in the
 * ruler's unit, what is measured with callipers in mm or decimals of an inch. PLACE: on the blank, from its butt
 * or tip. WIDTH: along the blank, of turns, a wrap, a foot, from the wrap's mark. TOLERANCE: how far a width may
 * be off. DIAMETER: of the blank; also how high a foot is. THICKNESS: of a thread, what a turn takes; of paper, of
 * finish; room between threads round the blank. PERIOD: in which a variegated thread's colours come once. THREAD:
 * to cut or buy. DISTANCE: from where a wrap is looked at. */
#define QUANTITY_TABLE(X)                                                                                         \
    X(PLACE, AS(MM, 2, SHORT), AS(CM, 3, SHORT), AS(IN, 3, RULER), AS(CM, 3, SHORT))                              \
    X(WIDTH, AS(MM, 2, EVEN), AS(CM, 3, EVEN), AS(IN, 3, RULER), AS(MM, 2, EVEN))                                 \
    X(TOLERANCE, AS(MM, 2, EVEN), AS(MM, 2, EVEN), AS(IN, 3, EXACT), AS(MM, 2, EVEN))                             \
    X(DIAMETER, AS(MM, 2, EVEN), AS(MM, 2, EVEN), AS(IN, 3, EVEN), AS(MM, 2, EVEN))                               \
    X(THICKNESS, AS(MM, 3, EVEN), AS(MM, 3, EVEN), AS(IN, 4, EVEN), AS(MM, 3, EVEN))                              \
    X(PERIOD, AS(MM, 2, SHORT), AS(CM, 3, SHORT), AS(IN, 3, RULER), AS(CM, 3, SHORT))                             \
    X(DISTANCE, AS(M, 2, SHORT), AS(M, 2, SHORT), AS(IN, 0, SHORT), AS(M, 2, SHORT))                              \
    X(THREAD, AS(M, 2, EVEN), AS(M, 2, EVEN), AS(YD, 2, EVEN), AS(M, 2, EVEN))

typedef enum {
#define X(name, ...) QUANTITY_##name,
    QUANTITY_TABLE(X)
#undef X
        QUANTITY_COUNT
} Quantity;

/* "12.30 mm"; a place "32 cm"; by the ruler "31/64 in (0.486 in)", the nearest 64th in lowest terms and the
 * decimal, without which the fraction stands where it says as much ("1/2 in"), and which stands alone where the
 * nearest 64th is 0. What is not 0 is not printed as 0: it gets more digits. */
void put_quantity(Buffer *buffer, UnitSystem system, Quantity quantity, double mm);
/* The same as a string in the arena. */
const char *show_quantity(Arena *arena, UnitSystem system, Quantity quantity, double mm);
/* The same of a width, of a thickness, and of thread to cut or buy. */
void put_length(Buffer *buffer, UnitSystem system, double mm);
const char *show_length(Arena *arena, UnitSystem system, double mm);
const char *show_fine(Arena *arena, UnitSystem system, double mm);
const char *show_thread_length(Arena *arena, UnitSystem system, double mm);
/* Without a fraction of an inch: "0.04 mm", "0.005 in". */
const char *show_decimal(Arena *arena, UnitSystem system, Quantity quantity, double mm);

/* For columns that name their unit: the decimal without it; and "15/64", the nearest on an inch ruler. */
void put_digits(Buffer *buffer, UnitSystem system, Quantity quantity, double mm);
void put_on_ruler(Buffer *buffer, double mm);
/* "mm", "in": what such a quantity is printed in. */
const char *quantity_unit(UnitSystem system, Quantity quantity);
/* mm of the last digit printed. */
double quantity_step(UnitSystem system, Quantity quantity);
/* For the head of a page: "in inches", "places on the blank in centimetres, widths in millimetres"; and what
 * widths are in: "millimetres". */
const char *system_words(UnitSystem system);
const char *unit_of_widths(UnitSystem system);

/* What a tool at the bench is read to, and in which units it is: a metric one in those of the page, or else in mm
 * and cm; an inch one in inches. */
typedef struct MeasuringTool {
    double step; /* mm: 0.5, 25.4 / 64 */
    UnitSystem system;
    bool all_digits; /* callipers show "12.0 mm" where a rule says "12 mm" */
} MeasuringTool;
/* Whether such steps are the even parts of a centimetre or of an inch. */
bool step_is_metric(double step);
bool step_is_of_an_inch(double step);
/* Of a tool that is read to such a step, where a page is printed in the system. */
MeasuringTool tool_read_to(UnitSystem system, double step, bool all_digits);
/* The nearest that the tool can tell: "12.5 mm", "9.4 mm"; an inch rule's in lowest terms, "12 5/64 in". What is
 * not 0 and nearer to it than to the first step is put as it is printed elsewhere. */
void put_read(Buffer *buffer, MeasuringTool tool, Quantity quantity, double mm);
/* Whether the tool reads 0. */
bool reads_nothing(MeasuringTool tool, double mm);

/* Two lengths and what lies between them, as printed: to so many digits that they differ, if they do, and that the
 * three add up. Decimals where both have the same fraction of an inch. */
typedef struct LengthPair {
    const char *one, *other, *apart;
} LengthPair;
LengthPair show_apart(Arena *arena, UnitSystem system, Quantity quantity, double one, double other);

/* Thread to cut, up to the next whole measure: "85 cm", "1.35 m"; "53 1/4 in", "4 yd 3 1/2 in". */
void put_cut_length(Buffer *buffer, UnitSystem system, double mm);

/* How a length is written in a source: in which unit, to how many digits after the point, or as on a ruler. */
typedef struct LengthWriting {
    Unit unit;
    int decimals; /* ON_A_RULER: in inches, to the nearest 1/64 */
} LengthWriting;
enum { ON_A_RULER = -1 };
/* As finely as it is printed; and with one digit more. */
LengthWriting print_writing(UnitSystem system, Quantity quantity);
LengthWriting source_writing(UnitSystem system, Quantity quantity);
/* In the unit that such a text of the source ends in ("3 1/4 in"), as finely; as otherwise where it is no length.
 */
LengthWriting written_as(const char *text, size_t length, LengthWriting otherwise);
/* The same unit, no finer than a ruler is read: to 0.1 mm; for feet and yards too in inches, on a ruler. */
LengthWriting writing_by_hand(LengthWriting writing);
double writing_step(LengthWriting writing);
/* The smallest (largest) length that can be written so and is not below (above) mm, a hair apart. */
double written_above(LengthWriting writing, double mm);
double written_below(LengthWriting writing, double mm);
/* Reads back as what it was rounded to: "54.27 mm", "0.4886 in", "2 9/64 in". */
const char *write_length(Arena *arena, LengthWriting writing, double mm);
const char *source_length(Arena *arena, UnitSystem system, Quantity quantity, double mm);

#endif
