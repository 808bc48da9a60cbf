#include "emit/emit.h"
#include "emit/json_page.h"

static const char *const vision_words[] = {[VISION_ALL_CONES] = "all",
                                           [VISION_PROTANOPIA] = "protanopia",
                                           [VISION_DEUTERANOPIA] = "deuteranopia",
                                           [VISION_TRITANOPIA] = "tritanopia"};
_Static_assert(sizeof vision_words / sizeof *vision_words == VISION_COUNT, "a word for each");

static void put_colour(JsonPage *page, const char *name, uint32_t colour)
{
    page_text(page, name, text_format(page->out->arena, "#%06x", (unsigned)colour & 0xffffff));
}

static void put_shade(JsonPage *page, const Shades *shades, const ThreadShade *shade)
{
    page_open_flat(page, NULL, '{');
    page_text(page, "thread", shade->name);
    put_colour(page, "colour", shade->thread->colour);
    page_truth(page, "of_several", shade->thread->colour_count > 0);
    page_number(page, "along", shade->position);
    page_number(page, "aside", shade->aside);
    page_text(page, "most_like", shade->nearest == NO_SHADE ? NULL : shades->shades[shade->nearest].name);
    page_number(page, "difference", shade->difference);
    page_close(page, '}');
}

static void put_step(JsonPage *page, const Shades *shades, const ShadeStep *step)
{
    page_open_flat(page, NULL, '{');
    page_text(page, "from", shades->shades[step->from].name);
    page_text(page, "to", shades->shades[step->to].name);
    page_number(page, "difference", step->difference);
    page_number(page, "jump", step->jump);
    page_truth(page, "melts", step->melts);
    page_truth(page, "enough", step->enough);
    page_open(page, "missing", '[');
    for (uint32_t i = 0; i < step->missing_count; i++)
        put_colour(page, NULL, step->missing[i]);
    page_close(page, ']');
    page_close(page, '}');
}

static void put_pair(JsonPage *page, const Shades *shades, const ShadePair *pair)
{
    page_open_flat(page, NULL, '{');
    page_text(page, "first", shades->shades[pair->first].name);
    page_text(page, "second", shades->shades[pair->second].name);
    page_number(page, "difference", pair->difference);
    page_open(page, "eyes", '[');
    for (int vision = 0; vision < VISION_COUNT; vision++)
        if (pair->visions & 1u << vision)
            page_text(page, NULL, vision_words[vision]);
    page_close(page, ']');
    page_close(page, '}');
}

static void put_between(JsonPage *page, const Shades *shades)
{
    page_text(page, "from", shades->shades[0].name);
    page_text(page, "to", shades->shades[shades->count - 1].name);
    page_number(page, "difference", shades->difference);
    page_number(page, "length", shades->path->length);
    page_open(page, "walk", '[');
    for (uint32_t i = 0; i < shades->step_count; i++)
        put_step(page, shades, &shades->steps[i]);
    page_close(page, ']');
}

void emit_shades_json(Buffer *out, const Plan *plan, const Shades *shades)
{
    JsonPage page;
    page_start(&page, out);
    page_open(&page, NULL, '{');
    page_head(&page, "turnlay shades", plan->job);
    page_text(&page, "eyes", vision_words[shades->task.vision]);
    page_number(&page, "alike", shades->task.alike);
    page_number(&page, "line_above", shades->task.jump);
    if (shades->task.from)
        put_between(&page, shades);
    page_open(&page, "shades", '[');
    for (uint32_t i = 0; i < shades->count; i++)
        put_shade(&page, shades, &shades->shades[i]);
    page_close(&page, ']');
    page_open(&page, "mistaken", '[');
    for (uint32_t i = 0; i < shades->pair_count; i++)
        put_pair(&page, shades, &shades->pairs[i]);
    page_close(&page, ']');
    page_whole(&page, "mistaken_left_out", shades->pairs_left_out);
    page_whole(&page, "without_colour", shades->uncoloured);
    page_close(&page, '}');
    page_end(&page);
}
