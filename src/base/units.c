#include "base/units.h"

#include "base/text.h"

#include <inttypes.h>

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

const char *show_number(Arena *arena, double value, int decimals)
{
    Buffer buffer;
    buffer_start(&buffer, arena);
    buffer_number_short(&buffer, value, decimals);
    return buffer_string(&buffer);
}

const char *show_turns(Arena *arena, double turns)
{
    const char *number = show_number(arena, turns, 3);
    return text_format(arena, turns == 1 ? "%s turn" : "%s turns", number);
}

const char *show_count(Arena *arena, uint64_t count)
{
    const uint64_t group = 1000;
    return count < group ? text_format(arena, "%" PRIu64, count)
                         : text_format(arena, "%s,%03" PRIu64, show_count(arena, count / group), count % group);
}
