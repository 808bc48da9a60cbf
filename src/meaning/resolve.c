/* Names and kinds of declarations, rods and places. */
#include "meaning/resolve_parts.h"

#include "base/limits.h"
#include "meaning/convert.h"
#include "meaning/likely.h"
#include "meaning/mend.h"

#include <string.h>
#include <strings.h>

/* Works in another module or with fresh locals, and comes back. */
typedef struct Standpoint {
    Module *module;
    uint32_t floor, slots;
    unsigned depth;
    const Node *room, *series;
} Standpoint;

static Standpoint go_to(Resolver *resolver, Module *module)
{
    Standpoint back = {resolver->module, resolver->floor, resolver->slots,
                       resolver->depth,  resolver->room,  resolver->series};
    resolver->module = module;
    resolver->room = resolver->series = NULL;
    resolver->floor = resolver->locals.count;
    resolver->slots = 0;
    return back;
}

static void go_back(Resolver *resolver, Standpoint back)
{
    local_leave(resolver, resolver->floor);
    resolver->module = back.module;
    resolver->floor = back.floor;
    resolver->slots = back.slots;
    resolver->depth = back.depth;
    resolver->room = back.room;
    resolver->series = back.series;
}

unsigned resolve_let(Resolver *resolver, Declaration *declaration)
{
    if (declaration->checked == DONE)
        return declaration->type;
    if (declaration->checked == IN_WORK) {
        Finding *finding = finding_add(resolver->findings, FINDING_LET_CIRCLE, declaration->node->span,
                                       "the value of `%s` depends on itself", declaration->name->bytes);
        finding_mend(resolver->findings, finding, "give it a value that does not use it");
        return TYPE_BROKEN;
    }
    declaration->checked = IN_WORK;
    Standpoint back = go_to(resolver, declaration->module);
    declaration->type = infer(resolver, declaration->node->first);
    go_back(resolver, back);
    declaration->checked = DONE;
    return declaration->type;
}

/* The kind of a parameter's default, as far as a unit or sign says it; NULL if nothing does. */
static const char *kind_of_default(Resolver *resolver, const Node *parameter)
{
    const Node *value = parameter->first;
    if (!value || value->kind == NODE_NAME || value->kind == NODE_LIST
        || (value->kind == NODE_NUMBER && (value->detail == UNIT_NONE || value->detail == UNIT_PERCENT)))
        return NULL;
    unsigned type = type_at_sight(resolver, value);
    return type == TYPE_BROKEN ? NULL : type_word(type);
}

static void report_no_kind(Resolver *resolver, const Node *parameter)
{
    const Node *word = parameter->second;
    static const char *const kinds[] = {"length", "turns",  "angle",  "ratio",   "count",
                                        "rate",   "colour", "thread", "threads", "text",
                                        "truth",  "guide",  "guides", "lengths", NULL};
    static const struct {
        const char *word, *kind;
    } others[] = {
        {"number", "count"},  {"integer", "count"},   {"int", "count"},      {"string", "thread"},
        {"bool", "truth"},    {"boolean", "truth"},   {"width", "length"},   {"list", "threads"},
        {"percent", "ratio"}, {"yarn", "thread"},     {"fraction", "ratio"}, {"share", "ratio"},
        {"mm", "length"},     {"cm", "length"},       {"inches", "length"},  {"wraps", "turns"},
        {"color", "colour"},  {"degrees", "angle"},   {"flag", "truth"},     {"distance", "length"},
        {"words", "text"},    {"strands", "threads"}, {"yarns", "threads"},  {"ring", "guide"},
        {"rings", "guides"},
    };
    const char *meant = nearest_word(resolver->findings->words, word->text->bytes, kinds);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcasecmp(others[i].word, word->text->bytes) == 0)
            meant = others[i].kind;
    const char *by_default = kind_of_default(resolver, parameter);
    if (by_default)
        meant = by_default;
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_A_CHOICE, word->span, "there is no kind `%s`",
                                   word->text->bytes);
    finding_mend(
        resolver->findings, finding,
        meant
            ? "write `%s`"
            : "write one of length, lengths, turns, angle, ratio, count, rate, colour, thread, threads, guide, guides, text, truth",
        meant);
    if (meant)
        finding_edit(resolver->findings, finding, word->span, "%s", meant);
}

/* `edge: count = 8 turns`: the value says what the kind is. */
static bool report_kind_of_default(Resolver *resolver, const Node *parameter, unsigned type)
{
    const char *kind = kind_of_default(resolver, parameter);
    unsigned of_default = kind ? type_of_word(kind) : TYPE_BROKEN;
    if (of_default == TYPE_BROKEN || type_fits(of_default, SET(type)))
        return false;
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_A_CHOICE, parameter->second->span,
                                   "`%s` is of kind `%s`, and its value of kind `%s`", parameter->text->bytes,
                                   parameter->second->text->bytes, kind);
    finding_relate(resolver->findings, finding, parameter->first->span, "the value if it is left out");
    finding_mend(resolver->findings, finding, "write `%s`", kind);
    finding_edit(resolver->findings, finding, parameter->second->span, "%s", kind);
    return true;
}

static void check_parameter(Resolver *resolver, Node *parameter)
{
    unsigned type = type_of_word(parameter->second->text->bytes);
    uint64_t told = resolver->findings->told;
    if (type != TYPE_BROKEN && report_kind_of_default(resolver, parameter, type)) {
        type = TYPE_BROKEN;
        resolve_broken(resolver, parameter, told);
        infer(resolver, parameter->first);
        parameter->slot = local_enter(resolver, parameter->text, type, parameter->cause);
        return;
    }
    parameter->type = (uint8_t)type;
    if (type == TYPE_BROKEN) {
        report_no_kind(resolver, parameter);
        resolve_broken(resolver, parameter, told);
        if (parameter->first)
            infer(resolver, parameter->first);
    } else if (parameter->first)
        want(resolver, parameter->first, SET(type), parameter->text->bytes);
    parameter->slot = local_enter(resolver, parameter->text, type, parameter->cause);
    resolver->locals.items[resolver->locals.count - 1].parameter = parameter;
}

static void check_parameter_names(Resolver *resolver, Node *pattern)
{
    for (Node *parameter = pattern->options; parameter; parameter = parameter->next)
        for (Node *earlier = pattern->options; earlier != parameter; earlier = earlier->next)
            if (earlier->text == parameter->text) {
                Finding *finding = finding_add(resolver->findings, FINDING_NAME_TWICE, option_name_span(parameter),
                                               "`%s` is declared twice", parameter->text->bytes);
                finding_relate(resolver->findings, finding, option_name_span(earlier), "first here");
                finding_mend(resolver->findings, finding, "give one of them another name, such as %s_2",
                             parameter->text->bytes);
                finding_edit(resolver->findings, finding, option_name_span(parameter), "%s_2",
                             parameter->text->bytes);
                break;
            }
}

/* A pattern with more parameters than anybody could call is as good as unreadable. */
static void limit_parameters(Resolver *resolver, Node *pattern)
{
    uint32_t count = 0;
    for (const Node *parameter = pattern->options; parameter; parameter = parameter->next)
        count++;
    if (count <= LIMIT_PARAMETERS)
        return;
    uint64_t told = resolver->findings->told;
    Finding *finding =
        finding_add(resolver->findings, FINDING_TOO_MUCH_WORK, pattern->first->span,
                    "this pattern has %u parameters; at most %d are allowed", count, LIMIT_PARAMETERS);
    finding_mend(resolver->findings, finding, "split it into several patterns");
    resolve_broken(resolver, pattern->options, told);
    pattern->options->kind = NODE_BROKEN;
}

static void report_too_deep(Resolver *resolver, Declaration *pattern)
{
    Span span = pattern->node->first->span;
    if (!resolver->too_deep) {
        Finding *finding = finding_add(resolver->findings, FINDING_NESTED_TOO_DEEP, span,
                                       "patterns call one another more than %d deep", LIMIT_CALL_DEPTH);
        finding_mend(resolver->findings, finding, "put some of them into one");
        resolver->too_deep = finding->number;
    }
    pattern->cause = cause_mark(resolver->findings, resolver->too_deep, span);
}

void resolve_pattern(Resolver *resolver, Declaration *declaration)
{
    if (declaration->checked != UNSEEN)
        return;
    limit_parameters(resolver, declaration->node);
    if (resolver->pattern_depth >= LIMIT_CALL_DEPTH) {
        report_too_deep(resolver, declaration);
        return;
    }
    declaration->checked = IN_WORK;
    resolver->pattern_depth++;
    uint32_t callers = resolver->height;
    resolver->height = 0;
    Standpoint back = go_to(resolver, declaration->module);
    resolver->depth = 0;
    if (!list_broken(declaration->node->options)) {
        check_parameter_names(resolver, declaration->node);
        for (Node *parameter = declaration->node->options; parameter; parameter = parameter->next)
            check_parameter(resolver, parameter);
    }
    resolve_statements(resolver, declaration->node->body, IN_PATTERN);
    declaration->holds = (uint8_t)check_content_of_pattern(resolver, declaration->node);
    declaration->slots = resolver->slots;
    declaration->height = resolver->height + 1;
    go_back(resolver, back);
    resolver->height = callers;
    resolver->pattern_depth--;
    declaration->checked = DONE;
    /* Those below it were looked at before it: how deep they call counts, not where they stand in the file. */
    if (declaration->height > LIMIT_CALL_DEPTH)
        report_too_deep(resolver, declaration);
}

/* Names that stand in other signs than a list's: `"low"`, `low and high`, `low + high`; NULL if it is nothing like
 * it, or more than a rod has sections. */
static const char *names_meant(Resolver *resolver, const Node *node, unsigned depth)
{
    if (node->kind == NODE_NAME)
        return written(resolver->findings->words, resolver->sources, node->span);
    if (node->kind == NODE_TEXT)
        return nearest_name(resolver, node->text->bytes, NAME_OF_BLANK, SET(TYPE_BLANK));
    if (node->kind != NODE_OPERATION || depth == LIMIT_SECTIONS)
        return NULL;
    const char *first = names_meant(resolver, node->first, depth + 1);
    const char *second = names_meant(resolver, node->second, depth + 1);
    return first && second ? finding_text(resolver->findings, "%s, %s", first, second) : NULL;
}

static void report_no_name(Resolver *resolver, Node *node)
{
    const char *names = names_meant(resolver, node, 0);
    Finding *finding = not_here(resolver, node, "a rod is made on blanks, by their names",
                                !names                    ? "declare a `blank`, and write its name here"
                                : node->kind == NODE_TEXT ? "write the name without quotes"
                                                          : "write the names, with commas between");
    if (names)
        finding_edit(resolver->findings, finding, node->span, "%s", names);
}

/* A blank by its name. */
static void resolve_blank(Resolver *resolver, Node *name)
{
    uint64_t told = resolver->findings->told;
    if (name->kind != NODE_NAME) {
        report_no_name(resolver, name);
        return;
    }
    Declaration *blank = find_name(resolver, name, NAME_OF_BLANK, SET(TYPE_BLANK), (ValueSpot){0});
    name->target = blank && blank->node->kind == NODE_BLANK ? blank : NULL;
    if (blank && blank->node->kind != NODE_BLANK)
        report_other_kind(resolver, name, blank, NODE_BLANK, "blank");
    if (!name->target) {
        name->cause = module_refused(resolver->module, name);
        resolve_broken(resolver, name, told);
    }
}

/* What is said of joints, where there is none. */
static void refuse_joint(Resolver *resolver, Node *rod, uint32_t rule)
{
    Node *option = option_node(rod->options, rule);
    uint64_t told = resolver->findings->told;
    if (!option)
        return;
    Finding *finding =
        finding_add(resolver->findings, FINDING_OPTIONS_EXCLUDE, option->span, "a rod on one blank has no joint");
    finding_mend(resolver->findings, finding,
                 "take it out, or name all sections from the butt on: `on [butt_piece, tip_piece]`");
    edit_out(resolver->findings, finding, resolver->sources, option->span);
    drop_option(resolver, option, told);
}

/* `like: "Estuary"` */
static void report_colon_of_like(Resolver *resolver, Node *option)
{
    const char *title = written(resolver->findings->words, resolver->sources, option->first->span);
    Finding *finding = not_here(resolver, option, "`like` takes no colon",
                                finding_text(resolver->findings, "write `like %s`", title));
    finding_edit(resolver->findings, finding, option->span, "like %s", title);
    option->kind = NODE_BROKEN;
}

static void resolve_rod(Resolver *resolver, Node *rod)
{
    for (Node *option = rod->options; option; option = option->next)
        if (option->kind == NODE_OPTION && strcmp(option->text->bytes, "like") == 0
            && option->first->kind == NODE_TEXT)
            report_colon_of_like(resolver, option);
    resolve_options(resolver, rod);
    if (rod->first->next)
        resolve_like(resolver, rod);
    Node *blanks = rod->second;
    for (Node *name = blanks && blanks->kind == NODE_LIST ? blanks->first : blanks; name; name = name->next)
        resolve_blank(resolver, name);
    if (!blanks || blanks->kind != NODE_LIST || !blanks->first->next) {
        refuse_joint(resolver, rod, ROD_OVERLAP);
        refuse_joint(resolver, rod, ROD_INSIDE);
    }
    if (rod->first->next) /* its body holds swaps */
        return;
    check_body(resolver, rod->body, IN_ROD);
    rod->slot = resolver->slots;
}

static const char *period_text(Resolver *resolver)
{
    return usual_value(resolver, SET(TYPE_LENGTH), (ValueSpot){NODE_THREAD, "period"});
}

/* Colours along the thread and the length they take go together. */
static void resolve_colours(Resolver *resolver, Node *thread)
{
    Node *colours = option_node(thread->options, THREAD_COLOURS),
         *period = option_node(thread->options, THREAD_PERIOD);
    if (colours && !period)
        missing(
            resolver, colours, "give the length of one repeat of the `colours`",
            finding_text(resolver->findings, "write `period: %s`, with your own length", period_text(resolver)),
            finding_text(resolver->findings, ", period: %s", period_text(resolver)));
    if (period && !colours) {
        Finding *finding = missing(resolver, period, "a `period` needs `colours`",
                                   "write `colours:` beside it, or take it out", NULL);
        edit_out(resolver->findings, finding, resolver->sources, period->span);
    }
}

static void resolve_size(Resolver *resolver, Node *thread)
{
    Node *size = option_value(thread->options, THREAD_SIZE);
    uint64_t told = resolver->findings->told;
    if (size && size->kind == NODE_NAME)
        size->target = find_name(resolver, size, NAME_OF_SIZE, 0, (ValueSpot){0});
    if (size && size->kind == NODE_NAME && !size->target) {
        size->cause = module_refused(resolver->module, size);
        resolve_broken(resolver, size, told);
    }
    Node *tex = option_node(thread->options, THREAD_TEX), *fibre = option_node(thread->options, THREAD_FIBRE);
    if (tex && !fibre)
        missing(resolver, tex, "`tex` gives a width only beside a `fibre`",
                "write `fibre:` beside it, such as `fibre: nylon`", ", fibre: nylon");
}

static void resolve_declaration(Resolver *resolver, Node *node)
{
    switch (node->kind) {
    case NODE_LET: resolve_let(resolver, (Declaration *)node->second->target); break;
    case NODE_PATTERN: resolve_pattern(resolver, (Declaration *)node->first->target); break;
    case NODE_ROD: resolve_rod(resolver, node); break;
    case NODE_BLANK:
        resolve_options(resolver, node);
        for (Node *station = node->body; station && station->kind == NODE_STATION; station = station->next) {
            want_at(resolver, station->first, SET(TYPE_LENGTH), "a station", (ValueSpot){NODE_STATION, SPOT_MARK});
            want_at(resolver, station->second, SET(TYPE_LENGTH), "the diameter at a station",
                    (ValueSpot){NODE_STATION, SPOT_DIAMETER});
        }
        break;
    case NODE_THREAD:
        resolve_options(resolver, node);
        resolve_size(resolver, node);
        resolve_colours(resolver, node);
        break;
    case NODE_USE: resolve_use(resolver, node); break;
    case NODE_EDITION: break;
    default: resolve_options(resolver, node); break;
    }
}

/* A bench's span begins with its brace, behind the word. */
static Span with_its_word(const Resolver *resolver, const Node *node)
{
    Span span = node->span;
    const char *bytes = resolver->sources->list.items[span.file].bytes;
    if (bytes[span.start] != '{')
        return span;
    uint32_t end = span.start, length = (uint32_t)strlen("bench");
    while (end > length && strchr(" \t\r\n", bytes[end - 1]))
        end--;
    if (end >= length && strncmp(bytes + end - length, "bench", length) == 0)
        span.start = end - length;
    return span;
}

static void once(Resolver *resolver, Node **first, Node *node, const char *what)
{
    if (!*first) {
        *first = node;
        return;
    }
    Finding *finding =
        finding_add(resolver->findings, FINDING_NAME_TWICE, node->span, "%s is written twice", what);
    finding_relate(resolver->findings, finding, (*first)->span, "first here");
    finding_mend(resolver->findings, finding, "write all of it in one place, and take this one out");
    Span all = with_its_word(resolver, node);
    if (all.start < node->span.start || node->kind != NODE_BENCH)
        edit_out(resolver->findings, finding, resolver->sources, all);
}

void resolve_module(Resolver *resolver, Module *module)
{
    Standpoint back = go_to(resolver, module);
    Node *bench = NULL, *about = NULL;
    for (Node *node = module->declarations; node; node = node->next) {
        resolve_declaration(resolver, node);
        if (node->kind == NODE_BENCH)
            once(resolver, &bench, node, "the bench");
        if (node->kind == NODE_ABOUT)
            once(resolver, &about, node, "`about`");
    }
    go_back(resolver, back);
}
