#include "plan/shade_words.h"

#include "base/buffer.h"
#include "base/text.h"
#include "plan/mistakable.h"

#include <string.h>

const char *shades_title(Arena *arena, const Shades *shades)
{
    if (!shades->task.from)
        return "Shades of all threads";
    return text_format(arena, "Shades from %s to %s", shades->shades[0].name,
                       shades->shades[shades->count - 1].name);
}

const char *missing_words(Arena *arena, const Shades *shades, const ShadeStep *step)
{
    static const char *const counts[] = {"",
                                         "a shade is",
                                         "2 shades are",
                                         "3 shades are",
                                         "4 shades are",
                                         "5 shades are",
                                         "6 shades are",
                                         "7 shades are"};
    _Static_assert(sizeof counts / sizeof *counts == MOST_MISSING + 1, "for every count");
    Buffer out;
    buffer_start(&out, arena);
    buffer_format(&out, "%s missing between %s and %s: something near",
                  step->enough ? counts[step->missing_count] : "more than 7 shades are",
                  shades->shades[step->from].name, shades->shades[step->to].name);
    for (uint32_t i = 0; i < step->missing_count; i++)
        buffer_format(&out, "%s #%06x", i ? "," : "", (unsigned)step->missing[i]);
    buffer_text(&out, step->enough ? "" : " halfway");
    return buffer_string(&out);
}

const char *pair_eyes(Arena *arena, const ShadePair *pair)
{
    if (pair->visions & 1u << VISION_ALL_CONES)
        return eyes_words(VISION_ALL_CONES);
    Buffer out;
    buffer_start(&out, arena);
    unsigned left = pair->visions;
    for (int vision = 0; left; vision++) {
        if (!(left & 1u << vision))
            continue;
        left &= ~(1u << vision);
        const char *words = eyes_words((Vision)vision);
        int kind = (int)strcspn(words, " ");
        unsigned more = (unsigned)__builtin_popcount(left);
        buffer_format(&out, "%.*s%s", kind, words, more > 1 ? ", " : more ? " and " : words + kind);
    }
    return buffer_string(&out);
}

const char *mistaking_eyes(const Shades *shades)
{
    if (shades->task.vision != VISION_ALL_CONES)
        return eyes_words(shades->task.vision);
    return shades->pair_count ? "some eyes" : "any eyes";
}

const char *walk_list(Arena *arena, const Shades *shades)
{
    Buffer out;
    buffer_start(&out, arena);
    buffer_format(&out, "[%s", shades->shades[0].name);
    for (uint32_t i = 0; i < shades->step_count; i++)
        buffer_format(&out, ", %s", shades->shades[shades->steps[i].to].name);
    buffer_text(&out, "]");
    return buffer_string(&out);
}
