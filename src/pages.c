/* The library's pages: each entry asks whether the page can be had, has it written by its room, and hands it over.
 */
#include "reading.h"

#include "base/limits.h"
#include "draw/eyes.h"
#include "draw/template/template.h"
#include "emit/emit.h"
#include "words/step_letters.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

Buffer answer_start(Compilation *compilation)
{
    Buffer page;
    compilation->page_arena.most = LIMIT_PAGE_MEMORY;
    buffer_start(&page, &compilation->page_arena);
    page.most = LIMIT_PAGE_BYTES;
    return page;
}

TurnlayStatus answer_hand_over(Compilation *compilation, const Buffer *page, TurnlayText *text)
{
    if (page->most && page->length > page->most)
        trap_beyond(&compilation->trap, BEYOND_PAGE_BYTES);
    char *bytes = trap_allocate(&compilation->trap, page->length + 1);
    if (page->length)
        memcpy(bytes, page->bytes, page->length);
    *text = (TurnlayText){bytes, page->length};
    arena_end(&compilation->page_arena);
    return TURNLAY_DONE;
}

void turnlay_text_free(TurnlayText *text)
{
    if (!text)
        return;
    free(text->bytes);
    *text = (TurnlayText){NULL, 0};
}

/* Whether the page can be had in this format, one of those in the set. */
#define BIT(format) (1u << (format))
static TurnlayStatus page_status(const Compilation *compilation, TurnlayFormat format, unsigned formats,
                                 bool whole, TurnlayText *text)
{
    if (text)
        *text = (TurnlayText){NULL, 0};
    TurnlayStatus status = answer_status(compilation, text, whole);
    if (status != TURNLAY_DONE)
        return status;
    bool known = (unsigned)format < TURNLAY_FORMAT_COUNT && formats & BIT(format);
    return known ? TURNLAY_DONE : TURNLAY_WRONG_VALUE;
}

enum { TABLES = BIT(TURNLAY_TEXT) | BIT(TURNLAY_JSON) | BIT(TURNLAY_CSV) };

static TurnlayStatus write_findings(Compilation *compilation, TurnlayFormat format, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    if (format == TURNLAY_JSON)
        emit_findings_json(&page, &compilation->findings, &compilation->sources, compilation->shown);
    else
        emit_findings_text(&page, &compilation->findings, &compilation->sources, compilation->shown,
                           format == TURNLAY_TERMINAL);
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_show_findings(Compilation *compilation, TurnlayShown shown)
{
    static const FindingsShown by_library[] = {SHOW_ALL, SHOW_GROUPED, SHOW_ERRORS};
    _Static_assert(sizeof by_library / sizeof *by_library == TURNLAY_SHOWN_COUNT, "one for each");
    if (!compilation)
        return TURNLAY_NULL_GIVEN;
    if (compilation->exhausted)
        return TURNLAY_OUT_OF_MEMORY;
    if ((unsigned)shown >= TURNLAY_SHOWN_COUNT)
        return TURNLAY_WRONG_VALUE;
    compilation->shown = by_library[shown];
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_write_findings(Compilation *compilation, TurnlayFormat format, TurnlayText *page)
{
    unsigned formats = BIT(TURNLAY_TEXT) | BIT(TURNLAY_TERMINAL) | BIT(TURNLAY_JSON);
    TurnlayStatus status = page_status(compilation, format, formats, false, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_findings(compilation, format, page));
}

TurnlayStatus turnlay_show_section(Compilation *compilation, const char *name)
{
    TurnlayStatus status = answer_status(compilation, compilation, false);
    if (status != TURNLAY_DONE)
        return status;
    uint32_t rods = compilation->plan ? compilation->plan->rod_count : 0, section = ALL_SECTIONS;
    const Rod *rod = NULL;
    for (uint32_t i = 0; name && i < rods && section == ALL_SECTIONS; i++) {
        rod = compilation->plan->rods[i].rod;
        section = section_named(rod, name);
    }
    if (name && section == ALL_SECTIONS)
        return TURNLAY_NO_SUCH_SECTION;
    compilation->section = name ? rod->sections[section].name : NULL;
    return TURNLAY_DONE;
}

static TurnlayStatus write_plan(Compilation *compilation, TurnlayFormat format, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    if (format == TURNLAY_JSON)
        emit_plan_json(&page, compilation->bench, &compilation->findings);
    else if (format == TURNLAY_CSV)
        emit_plan_csv(&page, compilation->plan);
    else
        emit_plan_text(&page, compilation->plan);
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_plan(Compilation *compilation, TurnlayFormat format, TurnlayText *page)
{
    TurnlayStatus status = page_status(compilation, format, TABLES, true, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_plan(compilation, format, page));
}

static TurnlayStatus write_need(Compilation *compilation, TurnlayFormat format, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    if (format == TURNLAY_JSON)
        emit_need_json(&page, compilation->bench);
    else if (format == TURNLAY_CSV)
        emit_need_csv(&page, compilation->plan);
    else
        emit_need_text(&page, compilation->bench);
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_need(Compilation *compilation, TurnlayFormat format, TurnlayText *page)
{
    TurnlayStatus status = page_status(compilation, format, TABLES, true, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_need(compilation, format, page));
}

Sheet *answer_sheet(Compilation *compilation)
{
    if (too_many_steps(compilation->bench))
        trap_beyond(&compilation->trap, BEYOND_STEPS);
    Arena *arena = &compilation->page_arena;
    Sheet *sheet = sheet_make(arena, bench_make(arena, compilation->plan, step_letters(arena, compilation->plan)));
    if (compilation->section)
        sheet_keep_section(arena, sheet, compilation->section);
    return sheet;
}

/* Where all is done there is no such step, and the sheet is whole. */
uint32_t answer_from(const Compilation *compilation, uint32_t asked)
{
    uint32_t steps = 0, at = compilation->went_on ? 0 : turnlay_step_at(compilation);
    for (uint32_t i = 0; i < compilation->bench->rod_count; i++)
        steps += compilation->bench->rods[i].step_count;
    uint32_t from = asked ? asked : at ? at : compilation->go_on_step;
    return from && (asked || from <= steps) ? from : 1;
}

TurnlayStatus turnlay_show_depth(Compilation *compilation, TurnlayDepth depth)
{
    if (!compilation)
        return TURNLAY_NULL_GIVEN;
    if (compilation->exhausted)
        return TURNLAY_OUT_OF_MEMORY;
    if ((unsigned)depth >= TURNLAY_DEPTH_COUNT)
        return TURNLAY_WRONG_VALUE;
    compilation->depth = depth;
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_show_eyes(Compilation *compilation, TurnlayEyes eyes)
{
    static const Vision visions[] = {VISION_ALL_CONES, VISION_PROTANOPIA, VISION_DEUTERANOPIA, VISION_TRITANOPIA};
    _Static_assert(sizeof visions / sizeof *visions == TURNLAY_EYES_COUNT, "one for each");
    if (!compilation)
        return TURNLAY_NULL_GIVEN;
    if (compilation->exhausted)
        return TURNLAY_OUT_OF_MEMORY;
    if ((unsigned)eyes >= TURNLAY_EYES_COUNT)
        return TURNLAY_WRONG_VALUE;
    compilation->eyes = visions[eyes];
    return TURNLAY_DONE;
}

static TurnlayStatus write_sheet(Compilation *compilation, TurnlayFormat format, uint32_t from_step,
                                 TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    Sheet *sheet = answer_sheet(compilation);
    from_step = answer_from(compilation, from_step);
    if (format == TURNLAY_HTML)
        emit_sheet_html(&page, sheet, compilation->plan, from_step);
    else if (format == TURNLAY_JSON)
        emit_sheet_json(&page, sheet);
    else if (compilation->depth == TURNLAY_CARDS)
        emit_cards_text(&page, sheet);
    else {
        sheet_begin_at(page.arena, sheet, from_step);
        emit_sheet_text(&page, sheet, from_step,
                        compilation->depth == TURNLAY_ACTIONS ? DEPTH_ACTIONS : DEPTH_STEPS);
    }
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_sheet(Compilation *compilation, TurnlayFormat format, uint32_t from_step,
                                  TurnlayText *page)
{
    unsigned formats = BIT(TURNLAY_TEXT) | BIT(TURNLAY_JSON) | BIT(TURNLAY_HTML);
    TurnlayStatus status = page_status(compilation, format, formats, true, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_sheet(compilation, format, from_step, page));
}

static uint32_t section_shown(const Compilation *compilation, uint32_t rod)
{
    return compilation->section ? section_named(compilation->plan->rods[rod].rod, compilation->section)
                                : ALL_SECTIONS;
}

TurnlayStatus drawing_status(const Compilation *compilation, const DrawingAsked *asked, TurnlayText *page)
{
    TurnlayStatus status = page_status(compilation, TURNLAY_TEXT, BIT(TURNLAY_TEXT), true, page);
    if (status != TURNLAY_DONE)
        return status;
    if ((unsigned)asked->view >= TURNLAY_VIEW_COUNT
        || !(asked->scale >= TURNLAY_LEAST_SCALE && asked->scale <= TURNLAY_GREATEST_SCALE)
        || isinf(asked->facing))
        return TURNLAY_WRONG_VALUE;
    if (asked->rod >= compilation->plan->rod_count)
        return TURNLAY_NO_SUCH_ROD;
    bool has_section = !compilation->section || section_shown(compilation, asked->rod) != ALL_SECTIONS;
    return has_section ? TURNLAY_DONE : TURNLAY_NO_SUCH_SECTION;
}

const Drawing *answer_drawing(Compilation *compilation, const DrawingAsked *asked)
{
    static const View views[] = {VIEW_SIDE, VIEW_UNROLLED, VIEW_ROD, VIEW_PRESENTATION, VIEW_EYE};
    _Static_assert(sizeof views / sizeof *views == TURNLAY_VIEW_COUNT, "one for each view");
    Arena *arena = &compilation->page_arena;
    View view = views[asked->view];
    uint32_t section = section_shown(compilation, asked->rod);
    double width = section_drawing_width(arena, compilation->plan, asked->rod, section, view, asked->scale);
    double pixels = asked->pixels_a_mm > 0 ? asked->pixels_a_mm * width : asked->pixels;
    return draw_in_pixels(arena, compilation->plan, asked->rod, section, view, asked->scale,
                          fmod(fmod(asked->facing, 360) + 360, 360), pixels, compilation->eyes);
}

static TurnlayStatus write_drawing(Compilation *compilation, const DrawingAsked *asked, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    emit_svg(&page, answer_drawing(compilation, asked));
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_drawing(Compilation *compilation, uint32_t rod, TurnlayView view, double scale,
                                    double facing, TurnlayText *page)
{
    DrawingAsked asked = {rod, view, scale, facing, 0, 0};
    TurnlayStatus status = drawing_status(compilation, &asked, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_drawing(compilation, &asked, page));
}

static TurnlayStatus write_template(Compilation *compilation, uint32_t rod, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    Drawing *templates = draw_templates(page.arena, compilation->plan, rod);
    drawing_seen(page.arena, templates, compilation->eyes);
    emit_svg(&page, templates);
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_template(Compilation *compilation, uint32_t rod, TurnlayText *page)
{
    TurnlayStatus status = page_status(compilation, TURNLAY_TEXT, BIT(TURNLAY_TEXT), true, page);
    if (status != TURNLAY_DONE)
        return status;
    if (rod >= compilation->plan->rod_count)
        return TURNLAY_NO_SUCH_ROD;
    if (!has_template(&compilation->plan->rods[rod]))
        return TURNLAY_NO_TEMPLATE;
    RETURN_GUARDED(compilation, write_template(compilation, rod, page));
}

static TurnlayStatus hand_over_gathered(Compilation *compilation, Buffer *page, TurnlayText *text)
{
    if (page->length > LIMIT_FILE_BYTES)
        trap_beyond(&compilation->trap, BEYOND_GATHERED);
    return answer_hand_over(compilation, page, text);
}

static TurnlayStatus write_gathered(Compilation *compilation, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    canonical_gather(compilation, NULL, &page);
    return hand_over_gathered(compilation, &page, text);
}

static TurnlayStatus write_kept(Compilation *compilation, TurnlayText *text, uint32_t *left)
{
    Buffer page = answer_start(compilation);
    KeptFades kept = kept_fades(page.arena, compilation->plan);
    *left = 0;
    for (uint32_t i = 0; i < kept.count; i++)
        *left += kept.items[i].keeping != KEPT;
    canonical_gather(compilation, &kept, &page);
    return hand_over_gathered(compilation, &page, text);
}

TurnlayStatus turnlay_write_gathered(Compilation *compilation, TurnlayText *page)
{
    TurnlayStatus status = page_status(compilation, TURNLAY_TEXT, BIT(TURNLAY_TEXT), true, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_gathered(compilation, page));
}

TurnlayStatus turnlay_write_kept(Compilation *compilation, TurnlayText *page, uint32_t *left)
{
    TurnlayStatus status = page_status(compilation, TURNLAY_TEXT, BIT(TURNLAY_TEXT), true, page);
    if (status == TURNLAY_DONE && !left)
        status = TURNLAY_NULL_GIVEN;
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_kept(compilation, page, left));
}
