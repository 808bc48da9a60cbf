#include "base/visible.h"
#include "emit/emit.h"
#include "emit/text_page.h"
#include "plan/mistakable.h"
#include "plan/shade_words.h"

/* Columns: name (it grows with the names), colour, and numbers. */
enum { NAME_COLUMNS = 16, MOST_NAME_COLUMNS = 32, COLOUR_COLUMNS = 9, NUMBER_COLUMNS = -10 };

typedef struct ShadesPage {
    TextPage text;
    const Shades *shades;
    int name_columns;
} ShadesPage;

/* The first or the second of a row. */
static void put_name(ShadesPage *page, const char *name, int before)
{
    buffer_text(page->text.out, "  ");
    buffer_text(&page->text.cell, name);
    text_wide_cell(&page->text, page->name_columns, 2 + before * (page->name_columns + 2));
}

static void put_colour(ShadesPage *page, const ThreadShade *shade)
{
    buffer_format(page->text.out, "#%06x%s  ", (unsigned)shade->thread->colour & 0xffffff,
                  shade->thread->colour_count ? "*" : " ");
}

static void put_difference(ShadesPage *page, double difference)
{
    buffer_number(&page->text.cell, difference, 1);
    text_cell(&page->text, NUMBER_COLUMNS);
}

/* Of threads with several colours. */
static void put_footnote(ShadesPage *page)
{
    bool any = false;
    for (uint32_t i = 0; i < page->shades->count; i++)
        any |= page->shades->shades[i].thread->colour_count > 0;
    if (any)
        buffer_text(page->text.out, "  * of several colours: their mean\n");
}

static void put_between(ShadesPage *page)
{
    const Shades *shades = page->shades;
    Buffer *out = page->text.out;
    buffer_text(out, "\n");
    text_heading(&page->text, "Between them", '-');
    if (shades->count == 2) {
        buffer_text(out, "  none of the file's threads\n");
        return;
    }
    put_name(page, "thread", 0);
    buffer_column(out, "colour", COLOUR_COLUMNS + 1);
    buffer_column(out, "along", NUMBER_COLUMNS);
    buffer_column(out, "aside", NUMBER_COLUMNS);
    buffer_text(out, "\n");
    for (uint32_t i = 1; i + 1 < shades->count; i++) {
        const ThreadShade *shade = &shades->shades[i];
        put_name(page, shade->name, 0);
        put_colour(page, shade);
        buffer_number(&page->text.cell, shade->position * 100, 0);
        buffer_text(&page->text.cell, " %");
        text_cell(&page->text, NUMBER_COLUMNS);
        buffer_number(&page->text.cell, shade->aside / shades->path->length * 100, 0);
        buffer_text(&page->text.cell, " %");
        text_cell(&page->text, NUMBER_COLUMNS);
        buffer_text(out, "\n");
    }
    put_footnote(page);
    text_paragraph(
        &page->text,
        "Along: how far on the way of mixtures from the first to the last; aside: how far off it, both of "
        "its length.",
        0);
}

static void put_steps(ShadesPage *page)
{
    const Shades *shades = page->shades;
    Buffer *out = page->text.out;
    bool all_melt = true;
    buffer_text(out, "\n");
    text_heading(&page->text, "The smoothest walk", '-');
    put_name(page, "from", 0);
    put_name(page, "to", 1);
    buffer_column(out, "differ by", NUMBER_COLUMNS);
    buffer_column(out, "jump", NUMBER_COLUMNS);
    buffer_text(out, "\n");
    for (uint32_t i = 0; i < shades->step_count; i++) {
        const ShadeStep *step = &shades->steps[i];
        put_name(page, shades->shades[step->from].name, 0);
        put_name(page, shades->shades[step->to].name, 1);
        put_difference(page, step->difference);
        put_difference(page, step->jump);
        buffer_text(out, "\n");
        all_melt &= step->melts;
        if (!step->melts)
            text_paragraph(&page->text, visible(out->arena, missing_words(out->arena, shades, step)), 4);
    }
    const Bench *bench = &page->text.plan->job->bench;
    text_paragraph(
        &page->text,
        text_format(out->arena,
                    "Jump: between two turns of a fade in %u steps, seen from %s; above %s it shows as a "
                    "line%s.",
                    STEPS_BY_HEART, show_quantity(out->arena, page->text.units, QUANTITY_DISTANCE, bench->far),
                    show_number(out->arena, bench->jump, 2),
                    shades->difference < shades->task.alike ? ". The two look the same; one will do"
                    : all_melt                              ? ": all of these melt"
                                                            : ""),
        0);
    if (shades->step_count > 1) {
        text_flow_words(&page->text, "For a fade:", 0);
        text_paragraph(&page->text, visible(out->arena, walk_list(out->arena, shades)), 4);
    }
}

static void put_all(ShadesPage *page)
{
    const Shades *shades = page->shades;
    Buffer *out = page->text.out;
    buffer_text(out, "\n");
    put_name(page, "thread", 0);
    buffer_column(out, "colour", COLOUR_COLUMNS + 1);
    put_name(page, "most like", 1);
    buffer_column(out, "differ by", NUMBER_COLUMNS);
    buffer_text(out, "\n");
    for (uint32_t i = 0; i < shades->count; i++) {
        const ThreadShade *shade = &shades->shades[i];
        put_name(page, shade->name, 0);
        put_colour(page, shade);
        if (shade->nearest == NO_SHADE)
            buffer_text(out, "  -");
        else {
            put_name(page, shades->shades[shade->nearest].name, 1);
            put_difference(page, shade->difference);
        }
        buffer_text(out, "\n");
    }
    put_footnote(page);
}

static void put_pairs(ShadesPage *page)
{
    const Shades *shades = page->shades;
    Buffer *out = page->text.out;
    buffer_text(out, "\n");
    text_heading(&page->text,
                 text_format(out->arena, "Would be mistaken under the lamp by %s", mistaking_eyes(shades)), '-');
    for (uint32_t i = 0; i < shades->pair_count; i++) {
        const ShadePair *pair = &shades->pairs[i];
        put_name(page, shades->shades[pair->first].name, 0);
        put_name(page, shades->shades[pair->second].name, 1);
        put_difference(page, pair->difference);
        page->text.column = 4 + 2 * page->name_columns - NUMBER_COLUMNS;
        text_paragraph(&page->text, text_format(out->arena, " by %s", pair_eyes(out->arena, pair)),
                       page->text.column + 2);
    }
    if (shades->pairs_left_out)
        buffer_format(out, "  and %u pairs more, which differ by more\n", shades->pairs_left_out);
    buffer_text(out,
                shades->pair_count ? "Put a label on these spools: they differ by less than 10.\n" : "  none\n");
}

static void put_head(ShadesPage *page)
{
    const Shades *shades = page->shades;
    Buffer *out = page->text.out;
    text_head(&page->text, shades_title(out->arena, shades));
    if (shades->task.vision != VISION_ALL_CONES)
        buffer_format(out, "As %s see them.\n", eyes_words(shades->task.vision));
    if (shades->task.from) {
        const ThreadShade *from = &shades->shades[0], *to = &shades->shades[shades->count - 1];
        text_paragraph(
            &page->text,
            visible(out->arena, text_format(out->arena, "%s, #%06x, and %s, #%06x, differ by %s.", from->name,
                                            (unsigned)from->thread->colour, to->name, (unsigned)to->thread->colour,
                                            show_number(out->arena, shades->difference, 1))),
            0);
    }
    text_paragraph(
        &page->text,
        "Differences are CIEDE2000: about 1 is the least that is seen side by side. Colours are as under "
        "finish.",
        0);
    if (shades->uncoloured)
        buffer_format(out, "%u %s no colour in the file, and %s left out.\n", shades->uncoloured,
                      shades->uncoloured == 1 ? "thread has" : "threads have",
                      shades->uncoloured == 1 ? "is" : "are");
}

void emit_shades_text(Buffer *out, const Plan *plan, const Shades *shades)
{
    ShadesPage page = {text_page_start(out, plan), shades, NAME_COLUMNS};
    for (uint32_t i = 0; i < shades->count; i++)
        page.name_columns = text_widest(page.name_columns, shades->shades[i].name, MOST_NAME_COLUMNS);
    put_head(&page);
    if (shades->task.from) {
        put_between(&page);
        put_steps(&page);
    } else
        put_all(&page);
    put_pairs(&page);
}
