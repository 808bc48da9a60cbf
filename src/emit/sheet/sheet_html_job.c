#include "emit/sheet/sheet_html_job.h"

#include "emit/html_page.h"
#include "emit/sheet/sheet_json.h"
#include "words/night_words.h"

#include <string.h>

/* mm, as finely as anything at the bench may have to be read back. */
enum { MM_DIGITS = 9 };

static void put_attribute(Buffer *out, const char *name, double value)
{
    buffer_format(out, " data-%s=\"", name);
    buffer_number_short(out, value, MM_DIGITS);
    buffer_text(out, "\"");
}

static void put_text_attribute(Buffer *out, const char *name, const char *text)
{
    buffer_format(out, " data-%s=\"", name);
    html_text(out, text);
    buffer_text(out, "\"");
}

/* The file compiled, without its folders: what is to be run must not say where it lies on another machine. */
static const char *file_name(const Sheet *sheet)
{
    const char *path = sheet->bench->plan->job->sources->list.items[0].path, *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

void html_job(Buffer *out, const Sheet *sheet)
{
    const Bench *bench = &sheet->bench->plan->job->bench;
    put_text_attribute(out, "pattern", sheet->pattern_mark);
    put_text_attribute(out, "file", file_name(sheet));
    put_text_attribute(out, "unit", sheet->units);
    put_attribute(out, "step", bench->callipers.step);
    put_attribute(out, "tolerance", bench->tolerance);
    put_attribute(out, "reading", bench->reading);
}

static void put_layer(Buffer *out, uint32_t rod, uint32_t place, uint32_t layer)
{
    buffer_format(out, " data-at=\"%u", (unsigned)rod);
    if (place != WHOLE_ROD)
        buffer_format(out, " %u", (unsigned)place);
    if (layer != WHOLE_ROD)
        buffer_format(out, " %u", (unsigned)layer);
    buffer_text(out, "\"");
}

void html_part_key(Buffer *out, uint32_t rod, const SheetPart *part)
{
    put_layer(out, rod, part->place, part->layer);
}

static void put_made(Buffer *out, const char *thread, double nominal, double turns)
{
    buffer_text(out, "<span class=\"made-of\" hidden");
    put_text_attribute(out, "thread", thread);
    put_attribute(out, "nominal", nominal);
    put_attribute(out, "count", turns);
    buffer_text(out, "></span>");
}

/* As the record has it, in one line: what nobody may see of a text is escaped by then. */
static void put_happenings(Buffer *out, const Job *job)
{
    Buffer words;
    JsonPage page;
    buffer_start(&words, out->arena);
    page_start(&page, &words);
    page_open(&page, NULL, '{');
    put_happened(&page, job);
    page_close(&page, '}');
    page_end(&page);
    for (size_t i = 0; i < words.length; i++)
        if (words.bytes[i] == '\n')
            words.bytes[i] = ' ';
    buffer_put(&words, "", 1);
    put_text_attribute(out, "happened", words.bytes);
}

/* Where widths were measured, as they lie on this sheet. */
static void put_readings(Buffer *out, const MeasuredWidths *measured)
{
    for (uint32_t i = 0; i < measured->count; i++) {
        const MeasuredWidth *one = &measured->items[i];
        buffer_text(out, "<span class=\"reading\" hidden");
        put_layer(out, one->rod, one->place, one->layer);
        put_attribute(out, "turn", (double)one->made);
        put_attribute(out, "width", one->width);
        buffer_text(out, "></span>");
    }
}

void html_happened(Buffer *out, const Sheet *sheet)
{
    const Job *job = sheet->bench->plan->job;
    if (!job->happened.count)
        return;
    buffer_text(out, "<div id=\"readings\"");
    put_happenings(out, job);
    buffer_text(out, " hidden>");
    put_readings(out, &job->measured);
    buffer_text(out, "</div>\n");
}

void html_step_key(Buffer *out, const SheetRod *rod, const SheetStep *step)
{
    uint64_t made = 0;
    for (uint32_t i = 0; i < step->count; i++) {
        const Action *action = rod->actions[step->first + i].action;
        if (action->layer != WHOLE_ROD && action->layer_count > made)
            made = action->layer_count;
    }
    if (!made)
        return;
    buffer_text(out, " data-after=\"");
    buffer_whole(out, made);
    buffer_text(out, "\"");
}

/* --- a width --- */

static const Action *measuring_of(const SheetRod *rod, const SheetStep *step)
{
    for (uint32_t i = 0; i < step->count; i++)
        if (rod->actions[step->first + i].measure)
            return rod->actions[step->first + i].action;
    return NULL;
}

/* The run that the last turn was made of: the one that is begun, or that was passed last. No gap is passed before
 * the turn behind it. */
static const Run *last_run(const TurnsSoFar *so_far)
{
    const Run *begun = &so_far->layer->runs[so_far->run];
    return so_far->run_turn ? begun : begun - 1;
}

static void put_band_thread(Buffer *out, const Thread *thread)
{
    buffer_text(out, "<span class=\"band-of\" hidden");
    put_text_attribute(out, "thread", thread->name->bytes);
    buffer_text(out, "></span>");
}

void html_measured(Buffer *out, const SheetRod *rod, const SheetStep *step, TurnsSoFar *so_far,
                   ThreadWidths *widths)
{
    const Action *action = measuring_of(rod, step);
    if (!action)
        return;
    double gaps_before = so_far->gaps;
    turns_go_on(so_far, widths, action->layer_count);
    buffer_text(out, "<p class=\"write\">Measured width:</p>\n<span class=\"expected\" hidden");
    put_attribute(out, "width", action->length);
    put_attribute(out, "uncertainty", uncertainty_at(so_far->layer, action->layer_count));
    put_attribute(out, "turn", last_run(so_far)->pitch);
    put_attribute(out, "band", (double)(action->layer_count - so_far->band_first));
    put_attribute(out, "gaps", so_far->gaps - gaps_before);
    buffer_text(out, ">");
    for (uint32_t i = 0; i < widths->list.count; i++)
        put_made(out, widths->list.items[i].thread->name->bytes, widths->list.items[i].thread->pitch,
                 widths->list.items[i].turns);
    for (uint32_t i = 0; so_far->last && i < so_far->last->count; i++)
        put_band_thread(out, so_far->last->items[i].thread);
    buffer_text(out, "</span>\n");
    thread_widths_clear(widths);
}

void html_width_field(Buffer *out, const Sheet *sheet)
{
    buffer_text(
        out,
        "<p class=\"width\" id=\"width\" hidden><label for=\"measured\">Width</label> "
        "<input type=\"text\" id=\"measured\" aria-label=\"Width\" autocomplete=\"off\" enterkeyhint=\"done\" maxlength=\"60\" "
        "inputmode=\"");
    bool in_inches =
        strcmp(sheet->units, "in") == 0; /* of which a telephone's keys for decimals have no fractions */
    buffer_format(out, "%s\"> <span>%s</span>\n", in_inches ? "text" : "decimal", sheet->units);
    buffer_text(out, "<button type=\"button\" id=\"how-it-is\" hidden></button></p>\n");
}

void html_night(Buffer *out, Arena *aside, const SheetRod *rod, const SheetStep *step, const StepNight *nights)
{
    uint32_t index = (uint32_t)(step - rod->steps);
    buffer_text(out, "<p class=\"night\" dir=\"auto\" hidden>");
    html_unbroken(out, night_words(aside, rod, index, &nights[index]));
    arena_clear(aside);
    buffer_text(out, "</p>\n");
}

/* --- what changed --- */

static bool changed(const SheetPart *part) { return part->changed && *part->changed; }

void html_changes(Buffer *out, const Sheet *sheet)
{
    bool begun = false;
    for (uint32_t r = 0; r < sheet->rod_count; r++)
        for (uint32_t p = 0; p < sheet->rods[r].part_count; p++) {
            const SheetPart *part = &sheet->rods[r].parts[p];
            if (!changed(part))
                continue;
            if (!begun)
                buffer_text(out, "<section class=\"changes\" id=\"changes\" aria-labelledby=\"changes-heading\">\n"
                                 "<h2 id=\"changes-heading\">Planned again</h2>\n<dl>\n");
            begun = true;
            buffer_text(out, "<div><dt dir=\"auto\">");
            html_unbroken(out, part->heading);
            buffer_text(out, "</dt><dd dir=\"auto\">");
            html_unbroken(out, part->changed);
            buffer_text(out, "</dd></div>\n");
        }
    if (begun)
        buffer_text(out, "</dl>\n</section>\n");
}

/* --- dialogs --- */

static const char dialogs[] =
    "<dialog id=\"how\" class=\"small\" aria-labelledby=\"how-heading\">\n"
    "<h2 id=\"how-heading\" tabindex=\"-1\" autofocus></h2>\n<p id=\"how-words\"></p>\n"
    "<p class=\"field\" id=\"counted-field\"><label for=\"band-turns\">Turns counted in this band</label> "
    "<input type=\"text\" id=\"band-turns\" inputmode=\"numeric\" autocomplete=\"off\" maxlength=\"9\"></p>\n"
    "<button type=\"button\" id=\"close-how\" class=\"go\">Close</button>"
    "<button type=\"button\" id=\"it-is-so\" hidden>Measured and counted again: it is so</button>"
    "<button type=\"button\" id=\"plan-again\">Plan the rest again</button>\n</dialog>\n"
    "<dialog id=\"night\" class=\"small\" aria-labelledby=\"night-heading\">\n"
    "<h2 id=\"night-heading\" tabindex=\"-1\" autofocus>Stop for the night</h2>\n<div id=\"night-words\"></div>\n"
    "<button type=\"button\" id=\"close-night\" class=\"go\">Close</button>\n</dialog>\n"
    "<dialog id=\"note\" class=\"small\" aria-labelledby=\"note-heading\">\n"
    "<h2 id=\"note-heading\" tabindex=\"-1\" autofocus></h2>\n"
    "<p class=\"field\"><label for=\"note-text\">Note</label> <textarea id=\"note-text\" rows=\"4\" "
    "maxlength=\"1000\"></textarea></p>\n"
    "<p class=\"field\"><label for=\"note-date\">Date, if you want one</label> "
    "<input type=\"text\" id=\"note-date\" autocomplete=\"off\" maxlength=\"200\"></p>\n"
    "<button type=\"button\" id=\"close-note\" class=\"go\">Close</button>\n</dialog>\n"
    "<dialog id=\"changed\" aria-labelledby=\"changed-heading\">\n<div class=\"list-head\">"
    "<h2 id=\"changed-heading\" tabindex=\"-1\" autofocus>This sheet was planned again</h2>"
    "<button type=\"button\" id=\"confirm-changes\" class=\"go\">I have read it</button></div>\n"
    "<div class=\"shown\"><p id=\"changed-place\"></p><div id=\"changed-shown\"></div></div>\n</dialog>\n"
    "<dialog id=\"record\" aria-labelledby=\"record-heading\">\n<div class=\"list-head\">"
    "<h2 id=\"record-heading\" tabindex=\"-1\" autofocus>Record of the job</h2>"
    "<button type=\"button\" id=\"close-record\">Close</button></div>\n<div class=\"shown\">\n"
    "<p id=\"run-why\"></p>\n<div id=\"runs\"></div>\n"
    "<h3>What happened</h3>\n<ul class=\"happened\" id=\"happened-list\" role=\"list\"></ul>\n"
    "<h3>Lots of thread</h3>\n<div id=\"lots\"></div>\n"
    "<h3>Keep it, take it along</h3>\n<p id=\"record-words\" role=\"status\"></p>\n"
    "<p class=\"choices\"><button type=\"button\" id=\"download\">Download the record</button>"
    "<button type=\"button\" id=\"open-record\">Open a record</button>"
    "<button type=\"button\" id=\"begin-anew\">Begin a new record</button></p>\n"
    "<input type=\"file\" id=\"record-file\" accept=\".json,application/json\" hidden>\n</div>\n</dialog>\n"
    "<dialog id=\"anew\" class=\"small\" aria-labelledby=\"anew-words\">\n"
    "<p id=\"anew-words\">Widths, lots and notes of this job are forgotten here, for another rod by the same sheet. "
    "Download the record first if it is to be kept.</p>\n"
    "<button type=\"button\" id=\"keep-record\" class=\"go\">Keep it</button>"
    "<button type=\"button\" id=\"forget-record\">Begin a new one</button>\n</dialog>\n";

void html_job_dialogs(Buffer *out) { buffer_text(out, dialogs); }
