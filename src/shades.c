/* The library's entries about threads that are chosen by their colours. */
#include "reading.h"

#include "base/buffer.h"
#include "base/text.h"
#include "draw/eyes.h"
#include "draw/shades/shades_picture.h"
#include "emit/emit.h"
#include "meaning/names_of_threads.h"
#include "trade/eye.h"

static ThreadNames names_of(Compilation *compilation)
{
    return names_of_threads(&compilation->page_arena, &compilation->reading->modules, compilation->job,
                            &compilation->findings);
}

/* NULL, and why, where it is none to choose by. */
static const Thread *thread_to_choose_by(Compilation *compilation, const ThreadNames *names, const char *name)
{
    const Thread *thread = thread_of_name(names, compilation->job, name);
    const char *near = thread ? NULL : thread_name_near(names, name);
    Arena *arena = &compilation->arena;
    if (!thread)
        compilation->between_fault =
            near ? text_format(arena, "the file knows no thread %s; did you mean %s?", name, near)
                 : text_format(arena, "the file knows no thread %s", name);
    else if (!thread->coloured)
        compilation->between_fault =
            text_format(arena, "%s has no colour; give it one, such as colour: #22346b", name);
    return compilation->between_fault ? NULL : thread;
}

static TurnlayStatus show_between(Compilation *compilation, const char *from, const char *to)
{
    compilation->between_fault = NULL;
    ThreadNames names = names_of(compilation);
    const Thread *first = thread_to_choose_by(compilation, &names, from);
    const Thread *second = first ? thread_to_choose_by(compilation, &names, to) : NULL;
    if (second && first == second)
        compilation->between_fault =
            text_format(&compilation->arena, "%s and %s are one thread; name two", from, to);
    arena_end(&compilation->page_arena);
    if (compilation->between_fault)
        return TURNLAY_NO_SUCH_THREAD;
    compilation->between[0] = first;
    compilation->between[1] = second;
    return TURNLAY_DONE;
}

TurnlayStatus turnlay_show_between(Compilation *compilation, const char *from, const char *to)
{
    TurnlayStatus status = answer_status(compilation, compilation, true);
    if (status != TURNLAY_DONE)
        return status;
    if (!from != !to)
        return TURNLAY_NULL_GIVEN;
    if (!from) {
        compilation->between[0] = compilation->between[1] = NULL;
        compilation->between_fault = NULL;
        return TURNLAY_DONE;
    }
    RETURN_GUARDED(compilation, show_between(compilation, from, to));
}

const char *turnlay_between_fault(const Compilation *compilation)
{
    return compilation ? compilation->between_fault : NULL;
}

const Shades *answer_shades(Compilation *compilation)
{
    const Bench *bench = &compilation->job->bench;
    ThreadNames names = names_of(compilation);
    ShadesTask task = {.names = names.written,
                       .from = compilation->between[0],
                       .to = compilation->between[1],
                       .vision = compilation->eyes,
                       .alike = bench->alike,
                       .jump = bench->jump,
                       .blur = eye_blur(bench->sight, bench->far)};
    uint32_t uncoloured;
    task.threads = threads_to_choose(&compilation->page_arena, compilation->job, &task.count, &uncoloured);
    Shades *shades = shades_make(&compilation->page_arena, &task);
    shades->uncoloured = uncoloured;
    return shades;
}

const Drawing *answer_shades_drawing(Compilation *compilation)
{
    Arena *arena = &compilation->page_arena;
    Drawing *drawing = draw_shades(arena, compilation->plan, answer_shades(compilation));
    drawing_seen(arena, drawing, compilation->eyes);
    return drawing;
}

TurnlayStatus shades_status(const Compilation *compilation, TurnlayText *page)
{
    if (page)
        *page = (TurnlayText){NULL, 0};
    return answer_status(compilation, page, true);
}

static TurnlayStatus write_shades(Compilation *compilation, TurnlayFormat format, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    const Shades *shades = answer_shades(compilation);
    if (format == TURNLAY_JSON)
        emit_shades_json(&page, compilation->plan, shades);
    else
        emit_shades_text(&page, compilation->plan, shades);
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_shades(Compilation *compilation, TurnlayFormat format, TurnlayText *page)
{
    TurnlayStatus status = shades_status(compilation, page);
    if (status != TURNLAY_DONE)
        return status;
    if (format != TURNLAY_TEXT && format != TURNLAY_JSON)
        return TURNLAY_WRONG_VALUE;
    RETURN_GUARDED(compilation, write_shades(compilation, format, page));
}

static TurnlayStatus write_shades_drawing(Compilation *compilation, TurnlayText *text)
{
    Buffer page = answer_start(compilation);
    emit_svg(&page, answer_shades_drawing(compilation));
    return answer_hand_over(compilation, &page, text);
}

TurnlayStatus turnlay_write_shades_drawing(Compilation *compilation, TurnlayText *page)
{
    TurnlayStatus status = shades_status(compilation, page);
    if (status != TURNLAY_DONE)
        return status;
    RETURN_GUARDED(compilation, write_shades_drawing(compilation, page));
}
