#include "words/evenness_words.h"

#include <math.h>

/* "between the fade's turns 4 and 5", of so many. */
static const char *between(Arena *arena, uint32_t before, uint32_t turns)
{
    if (before == 0)
        return "before the fade's first turn";
    if (before == turns)
        return "behind the fade's last turn";
    return text_format(arena, "between the fade's turns %u and %u", (unsigned)before, (unsigned)before + 1);
}

const char *evenness_words(Arena *arena, const Bench *bench, const FadeLook *look, uint32_t turns)
{
    const char *from = show_quantity(arena, bench->units, QUANTITY_DISTANCE, bench->far);
    if (look->difference < bench->alike)
        return text_format(arena, "from %s: its two shades look the same", from);
    const char *jump = show_number(arena, ceil(look->jump * 100) / 100, 2),
               *most = show_number(arena, bench->jump, 2);
    const char *off = show_number(arena, ceil(look->departure * 100), 0);
    if (look->jump > bench->jump)
        return text_format(
            arena, "from %s: off by at most %s %% of the way; a line shows %s: the jump there is %s, above %s",
            from, off, between(arena, look->jump_turn, turns), jump, most);
    return text_format(arena,
                       "from %s: off by at most %s %% of the way; largest jump %s; above %s shows as a line", from,
                       off, jump, most);
}
