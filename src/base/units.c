#include "base/units.h"

#include "base/text.h"

#include <inttypes.h>
#include <math.h>

static const struct {
    const char *spelling;
    Measure measure;
    double factor;
    UnitSystem system;
} units[] = {
#define X(name, spelling, measure, factor, system) {spelling, measure, factor, system},
    UNIT_TABLE(X)
#undef X
};

const char *unit_spelling(Unit unit) { return units[unit].spelling; }
Measure unit_measure(Unit unit) { return units[unit].measure; }
double unit_factor(Unit unit) { return units[unit].factor; }
UnitSystem unit_system(Unit unit) { return units[unit].system; }

static const struct {
    const char *unit, *name;
    double mm;
    int decimals, fine_decimals;
    const char *fine_unit;
    double fine_mm;
    const char *thread_unit;
    double thread_mm;
} systems[] = {
#define X(name, ...) {__VA_ARGS__},
    SYSTEM_TABLE(X)
#undef X
};

enum { PARTS_OF_AN_INCH = 64 };

/* "3 1/4": the nearest 64th, in lowest terms. */
static void put_inch_fraction(Buffer *buffer, double inches)
{
    double parts = round(fabs(inches) * PARTS_OF_AN_INCH);
    if (!(parts < 1e15)) {
        buffer_number(buffer, inches, 0);
        return;
    }
    unsigned long long total = (unsigned long long)parts, whole = total / PARTS_OF_AN_INCH;
    unsigned rest = (unsigned)(total % PARTS_OF_AN_INCH), below = PARTS_OF_AN_INCH;
    while (rest && rest % 2 == 0) {
        rest /= 2;
        below /= 2;
    }
    if (inches < 0 && total)
        buffer_text(buffer, "-");
    if (whole || !rest)
        buffer_format(buffer, rest ? "%llu " : "%llu", whole);
    if (rest)
        buffer_format(buffer, "%u/%u", rest, below);
}

void put_length(Buffer *buffer, UnitSystem system, double mm)
{
    if (system == SYSTEM_IN) {
        put_inch_fraction(buffer, mm / 25.4);
        buffer_text(buffer, " in (");
    }
    put_length_bare(buffer, system, mm);
    buffer_text(buffer, " ");
    buffer_text(buffer, systems[system].unit);
    if (system == SYSTEM_IN)
        buffer_text(buffer, ")");
}

void put_length_bare(Buffer *buffer, UnitSystem system, double mm)
{
    buffer_number(buffer, mm / systems[system].mm, systems[system].decimals);
}

const char *system_unit(UnitSystem system) { return systems[system].unit; }
const char *system_name(UnitSystem system) { return systems[system].name; }

static const char *finish(Buffer *buffer)
{
    buffer_put(buffer, "", 1);
    return buffer->bytes;
}

const char *show_length(Arena *arena, UnitSystem system, double mm)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    put_length(&buffer, system, mm);
    return finish(&buffer);
}

static const char *show_in(Arena *arena, double value, int decimals, const char *unit)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    buffer_number(&buffer, value, decimals);
    buffer_format(&buffer, " %s", unit);
    return finish(&buffer);
}

const char *show_fine(Arena *arena, UnitSystem system, double mm)
{
    return show_in(arena, mm / systems[system].fine_mm, systems[system].fine_decimals, systems[system].fine_unit);
}

enum { THREAD_DECIMALS = 2 };

double thread_length_step(UnitSystem system) { return systems[system].thread_mm / pow(10, THREAD_DECIMALS); }
double fine_step(UnitSystem system) { return systems[system].fine_mm / pow(10, systems[system].fine_decimals); }
double length_step(UnitSystem system) { return systems[system].mm / pow(10, systems[system].decimals); }

const char *show_thread_length(Arena *arena, UnitSystem system, double mm)
{
    return show_in(arena, mm / systems[system].thread_mm, THREAD_DECIMALS, systems[system].thread_unit);
}

const char *show_decimal(Arena *arena, UnitSystem system, double mm)
{
    return show_in(arena, mm / systems[system].mm, systems[system].decimals, systems[system].unit);
}

const char *show_number(Arena *arena, double value, int decimals)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    buffer_number_short(&buffer, value, decimals);
    return finish(&buffer);
}

const char *show_turns(Arena *arena, double turns)
{
    const char *number = show_number(arena, turns, 3);
    return text_format(arena, turns == 1 ? "%s turn" : "%s turns", number);
}

double system_mm(UnitSystem system) { return systems[system].mm; }

/* One more than is shown. */
int source_decimals(UnitSystem system) { return systems[system].decimals + 1; }

const char *source_length(Arena *arena, UnitSystem system, double mm)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    buffer_number_short(&buffer, mm / systems[system].mm, source_decimals(system));
    buffer_format(&buffer, " %s", systems[system].unit);
    return finish(&buffer);
}

const char *show_count(Arena *arena, uint64_t count)
{
    const uint64_t group = 1000;
    return count < group ? text_format(arena, "%" PRIu64, count)
                         : text_format(arena, "%s,%03" PRIu64, show_count(arena, count / group), count % group);
}
