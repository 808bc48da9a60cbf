#include "base/lengths.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* EVEN: all digits. SHORT: no zeros at the end. RULER: the nearest fraction of an inch, and the decimal where that
 * is another. EXACT: the fraction where it says as much, else the decimal. */
typedef enum { STYLE_EVEN, STYLE_SHORT, STYLE_RULER, STYLE_EXACT } Style;

typedef struct Print {
    Unit unit;
    int decimals;
    Style style;
} Print;

static const Print prints[QUANTITY_COUNT][SYSTEM_COUNT] = {
#define AS(unit, decimals, style)                                                                                 \
    {                                                                                                             \
        UNIT_##unit, decimals, STYLE_##style                                                                      \
    }
#define X(name, ...) {__VA_ARGS__},
    QUANTITY_TABLE(X)
#undef X
};

static const struct {
    const char *head, *widths;
} words[] = {{"in millimetres", "millimetres"},
             {"in centimetres", "centimetres"},
             {"in inches", "inches"},
             {"places on the blank in centimetres, widths in millimetres", "millimetres"}};
_Static_assert(sizeof words / sizeof *words == SYSTEM_COUNT, "every system has its words");
const char *system_words(UnitSystem system) { return words[system].head; }
const char *unit_of_widths(UnitSystem system) { return words[system].widths; }

enum { PARTS_OF_AN_INCH = 64, MOST_DECIMALS = 9 };
static const double tens[MOST_DECIMALS + 1] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};
/* mm; what is less is rounding of the reckoning. */
#define LEAST_SEEN 1e-6

const char *quantity_unit(UnitSystem system, Quantity quantity)
{
    return unit_spelling(prints[quantity][system].unit);
}

double quantity_step(UnitSystem system, Quantity quantity)
{
    const Print *print = &prints[quantity][system];
    return unit_factor(print->unit) / tens[print->decimals];
}

/* --- in print --- */

/* The table's, with as many digits more as it takes not to print as 0 what is not. */
static Print print_of(UnitSystem system, Quantity quantity, double mm)
{
    Print print = prints[quantity][system];
    double value = fabs(mm) / unit_factor(print.unit);
    while (fabs(mm) > LEAST_SEEN && print.decimals < MOST_DECIMALS && value * tens[print.decimals] < 0.5)
        print.decimals++;
    return print;
}

static void put_decimal(Buffer *buffer, Print print, double mm)
{
    double value = mm / unit_factor(print.unit);
    if (print.style == STYLE_SHORT)
        buffer_number_short(buffer, value, print.decimals);
    else
        buffer_number(buffer, value, print.decimals);
    buffer_text(buffer, " ");
    buffer_text(buffer, unit_spelling(print.unit));
}

/* "3 1/4": so many 64ths, in lowest terms. */
static void put_parts(Buffer *buffer, unsigned long long parts)
{
    unsigned long long whole = parts / PARTS_OF_AN_INCH;
    unsigned rest = (unsigned)(parts % PARTS_OF_AN_INCH), below = PARTS_OF_AN_INCH;
    while (rest && rest % 2 == 0) {
        rest /= 2;
        below /= 2;
    }
    if (whole || !rest)
        buffer_format(buffer, rest ? "%llu " : "%llu", whole);
    if (rest)
        buffer_format(buffer, "%u/%u", rest, below);
}

void put_on_ruler(Buffer *buffer, double mm)
{
    double parts = round(fabs(mm) / unit_factor(UNIT_IN) * PARTS_OF_AN_INCH);
    buffer_text(buffer, mm < 0 && parts > 0 ? "-" : "");
    if (parts < 1e15)
        put_parts(buffer, (unsigned long long)parts);
    else
        buffer_number(buffer, mm / unit_factor(UNIT_IN), 0);
}

static void put_ruler(Buffer *buffer, Print print, double mm)
{
    double inches = mm / unit_factor(UNIT_IN), nearest = round(inches * PARTS_OF_AN_INCH) / PARTS_OF_AN_INCH;
    double same = 0.5 / tens[print.decimals] + 1e-9;
    bool exact = fabs(inches - nearest) <= same;
    if (!exact && (nearest == 0 || print.style == STYLE_EXACT)) {
        put_decimal(buffer, print, mm);
        return;
    }
    put_on_ruler(buffer, mm);
    buffer_text(buffer, exact ? " in" : " in (");
    if (exact)
        return;
    put_decimal(buffer, print, mm);
    buffer_text(buffer, ")");
}

static void put_print(Buffer *buffer, Print print, double mm)
{
    if (print.style < STYLE_RULER)
        put_decimal(buffer, print, mm);
    else
        put_ruler(buffer, print, mm);
}

static const char *show_print(Arena *arena, Print print, double mm)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    put_print(&buffer, print, mm);
    return buffer_string(&buffer);
}

void put_quantity(Buffer *buffer, UnitSystem system, Quantity quantity, double mm)
{
    put_print(buffer, print_of(system, quantity, mm), mm);
}

const char *show_quantity(Arena *arena, UnitSystem system, Quantity quantity, double mm)
{
    return show_print(arena, print_of(system, quantity, mm), mm);
}

void put_length(Buffer *buffer, UnitSystem system, double mm) { put_quantity(buffer, system, QUANTITY_WIDTH, mm); }

const char *show_length(Arena *arena, UnitSystem system, double mm)
{
    return show_quantity(arena, system, QUANTITY_WIDTH, mm);
}

const char *show_fine(Arena *arena, UnitSystem system, double mm)
{
    return show_quantity(arena, system, QUANTITY_THICKNESS, mm);
}

const char *show_thread_length(Arena *arena, UnitSystem system, double mm)
{
    return show_quantity(arena, system, QUANTITY_THREAD, mm);
}

const char *show_decimal(Arena *arena, UnitSystem system, Quantity quantity, double mm)
{
    Print print = print_of(system, quantity, mm);
    print.style = print.style < STYLE_RULER ? print.style : STYLE_EVEN;
    return show_print(arena, print, mm);
}

void put_digits(Buffer *buffer, UnitSystem system, Quantity quantity, double mm)
{
    Print print = print_of(system, quantity, mm);
    buffer_number(buffer, mm / unit_factor(print.unit), print.decimals);
}

/* --- as a tool is read --- */

/* A hair: of a step, and where a half is meant. */
#define HAIR 1e-9

static bool is_part_of(double whole, double step)
{
    double parts = whole / step;
    return parts >= 1 - HAIR && fabs(parts - round(parts)) < HAIR * parts;
}

bool step_is_metric(double step) { return is_part_of(unit_factor(UNIT_CM), step); }
bool step_is_of_an_inch(double step) { return is_part_of(unit_factor(UNIT_IN), step); }

MeasuringTool tool_read_to(UnitSystem system, double step, bool all_digits)
{
    bool in_inches = !step_is_metric(step);
    return (MeasuringTool){step, in_inches ? SYSTEM_IN : system == SYSTEM_IN ? SYSTEM_MM : system, all_digits};
}

static double steps_read(MeasuringTool tool, double mm) { return round(mm / tool.step + (mm < 0 ? -HAIR : HAIR)); }

bool reads_nothing(MeasuringTool tool, double mm) { return steps_read(tool, mm) == 0; }

/* With as many digits as the step itself has. */
static Print print_of_tool(MeasuringTool tool, Quantity quantity)
{
    Print print = {prints[quantity][tool.system].unit, 0, tool.all_digits ? STYLE_EVEN : STYLE_SHORT};
    double step = tool.step / unit_factor(print.unit);
    while (print.decimals < MOST_DECIMALS
           && fabs(step * tens[print.decimals] - round(step * tens[print.decimals])) > HAIR * tens[print.decimals])
        print.decimals++;
    return print;
}

void put_read(Buffer *buffer, MeasuringTool tool, Quantity quantity, double mm)
{
    double read = steps_read(tool, mm) * tool.step;
    if (read == 0 && fabs(mm) > LEAST_SEEN) {
        put_quantity(buffer, tool.system, quantity, mm);
    } else if (tool.system == SYSTEM_IN && is_part_of(tool.step, unit_factor(UNIT_IN) / PARTS_OF_AN_INCH)) {
        put_on_ruler(buffer, read);
        buffer_text(buffer, " in");
    } else {
        put_decimal(buffer, print_of_tool(tool, quantity), read);
    }
}

LengthPair show_apart(Arena *arena, UnitSystem system, Quantity quantity, double one, double other)
{
    Print print = prints[quantity][system];
    double step = 0, first = 0, second = 0;
    for (;; print.decimals++) {
        step = unit_factor(print.unit) / tens[print.decimals];
        first = round(one / step), second = round(other / step);
        if (first != second || fabs(one - other) <= LEAST_SEEN || print.decimals == MOST_DECIMALS)
            break;
    }
    double part = unit_factor(UNIT_IN) / PARTS_OF_AN_INCH;
    if (print.style >= STYLE_RULER && first != second && round(one / part) == round(other / part))
        print.style = STYLE_EVEN; /* "3/4 in (0.754 in)" beside "3/4 in" */
    return (LengthPair){show_print(arena, print, first * step), show_print(arena, print, second * step),
                        show_print(arena, print, fabs(first - second) * step)};
}

/* --- thread to cut --- */

/* So little over a whole measure is rounding of the reckoning, not thread. */
#define CUT_SLACK 1e-6
enum { CM_PER_M = 100, QUARTERS = 4, INCHES_PER_YARD = 36, MOST_INCHES = 72 };

static void put_cut_inches(Buffer *buffer, double mm)
{
    unsigned long long quarters = (unsigned long long)ceil(mm / unit_factor(UNIT_IN) * QUARTERS - CUT_SLACK);
    const unsigned long long yard = INCHES_PER_YARD * QUARTERS;
    if (quarters >= MOST_INCHES * QUARTERS) {
        buffer_format(buffer, "%llu yd ", quarters / yard);
        quarters %= yard;
    }
    put_parts(buffer, quarters * (PARTS_OF_AN_INCH / QUARTERS));
    buffer_text(buffer, " in");
}

static void put_cut_metres(Buffer *buffer, double mm)
{
    double centimetres = ceil(mm / unit_factor(UNIT_CM) - CUT_SLACK);
    bool metres = centimetres >= CM_PER_M;
    buffer_number(buffer, metres ? centimetres / CM_PER_M : centimetres, metres ? 2 : 0);
    buffer_text(buffer, metres ? " m" : " cm");
}

void put_cut_length(Buffer *buffer, UnitSystem system, double mm)
{
    if (system == SYSTEM_IN)
        put_cut_inches(buffer, mm);
    else
        put_cut_metres(buffer, mm);
}

/* --- in a source --- */

LengthWriting print_writing(UnitSystem system, Quantity quantity)
{
    const Print *print = &prints[quantity][system];
    return (LengthWriting){print->unit, print->decimals};
}

LengthWriting source_writing(UnitSystem system, Quantity quantity)
{
    LengthWriting writing = print_writing(system, quantity);
    writing.decimals++;
    return writing;
}

double writing_step(LengthWriting writing)
{
    return unit_factor(writing.unit)
           / (writing.decimals == ON_A_RULER ? PARTS_OF_AN_INCH : tens[writing.decimals]);
}

static LengthWriting at_least_as_fine(Unit unit, double step)
{
    LengthWriting writing = {unit, 0};
    while (writing.decimals < MOST_DECIMALS && writing_step(writing) > step * (1 + 1e-9))
        writing.decimals++;
    return writing;
}

/* The mark for inches is one of the two that stand behind a number of feet and inches. */
static Unit unit_at_end(const char *text, size_t length)
{
    size_t start = length;
    while (start > 0 && isalpha((unsigned char)text[start - 1]))
        start--;
    if (start == length)
        return length && text[length - 1] == '"' ? UNIT_IN : UNIT_NONE;
    for (Unit unit = UNIT_NONE; unit < UNIT_COUNT; unit++)
        if (unit_measure(unit) == MEASURE_LENGTH && strlen(unit_spelling(unit)) == length - start
            && memcmp(unit_spelling(unit), text + start, length - start) == 0)
            return unit;
    return UNIT_NONE;
}

LengthWriting written_as(const char *text, size_t length, LengthWriting otherwise)
{
    for (; length && strchr("([", text[0]); length--) /* of a list, the last */
        text++;
    while (length && strchr(")] ", text[length - 1]))
        length--;
    Unit unit = length && isdigit((unsigned char)text[0]) ? unit_at_end(text, length) : UNIT_NONE;
    return unit == UNIT_NONE ? otherwise : at_least_as_fine(unit, writing_step(otherwise));
}

LengthWriting writing_by_hand(LengthWriting writing)
{
    if (unit_system(writing.unit) == SYSTEM_IN)
        return (LengthWriting){UNIT_IN, ON_A_RULER};
    return at_least_as_fine(writing.unit, unit_factor(UNIT_MM) / 10);
}

double written_above(LengthWriting writing, double mm)
{
    double step = writing_step(writing);
    return ceil(mm / step - 1e-6) * step;
}

double written_below(LengthWriting writing, double mm)
{
    double step = writing_step(writing);
    return floor(mm / step + 1e-6) * step;
}

const char *write_length(Arena *arena, LengthWriting writing, double mm)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    if (writing.decimals == ON_A_RULER) {
        put_on_ruler(&buffer, mm);
        buffer_text(&buffer, " in");
    } else {
        put_decimal(&buffer, (Print){writing.unit, writing.decimals, STYLE_SHORT}, mm);
    }
    return buffer_string(&buffer);
}

const char *source_length(Arena *arena, UnitSystem system, Quantity quantity, double mm)
{
    return write_length(arena, source_writing(system, quantity), mm);
}
