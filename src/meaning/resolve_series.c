/* Names and kinds of series: rows, what they inherit, and what `here` is known for. */
#include "meaning/resolve_parts.h"

#include "meaning/content.h"
#include "meaning/convert.h"
#include "meaning/here.h"
#include "meaning/lay.h"
#include "meaning/mend.h"

#include <string.h>

static const char *const here_words[] = {
#define X(name, word, ...) word,
    HERE_TABLE(X)
#undef X
        NULL};

bool names_here(const Resolver *resolver, const Node *name)
{
    if (!module_name(name) || strcmp(name->first->text->bytes, "here") != 0)
        return false;
    for (uint32_t i = 0; i < resolver->module->uses.count; i++)
        if (resolver->module->uses.items[i].alias == name->first->text)
            return false; /* a file goes by that name */
    return true;
}

static unsigned report_no_here(Resolver *resolver, Node *name)
{
    uint64_t told = resolver->findings->told;
    const char *word = written(resolver->findings->words, resolver->sources, name->span);
    bool pattern = resolver->pattern_depth;
    Finding *finding = finding_add(resolver->findings, FINDING_NOT_HERE, name->span,
                                   pattern ? "a pattern knows nothing of the place it is laid at"
                                           : "`%s` is known in the braces of a series alone",
                                   word);
    finding_mend(resolver->findings, finding,
                 pattern ? "give the pattern a parameter for it, and write `%s` where a series calls it"
                         : "put what needs `%s` into a series",
                 word);
    return resolve_broken(resolver, name, told);
}

unsigned infer_here(Resolver *resolver, Node *name)
{
    static const struct {
        unsigned type;
    } kinds[] = {
#define X(name, word, kind, ...) {TYPE_##kind},
        HERE_TABLE(X)
#undef X
    };
    uint32_t which = 0;
    while (here_words[which] && strcmp(here_words[which], name->text->bytes) != 0)
        which++;
    if (!here_words[which]) {
        uint64_t told = resolver->findings->told;
        Finding *finding = finding_add(resolver->findings, FINDING_UNKNOWN_NAME, name->span,
                                       "there is no `here.%s`", name->text->bytes);
        const char *meant = nearest_word(resolver->findings->words, name->text->bytes, here_words);
        finding_mend(resolver->findings, finding,
                     meant ? "write `here.%s`"
                           : "write `here.number`, `here.count`, `here.foot` or `here.diameter`",
                     meant);
        if (meant)
            finding_edit(resolver->findings, finding, name->span, "here.%s", meant);
        return resolve_broken(resolver, name, told);
    }
    if (!resolver->series)
        return report_no_here(resolver, name);
    name->scope = SCOPE_HERE;
    name->slot = which;
    resolver->reads |= READS_HERE | (which >= HERE_FOOT ? (unsigned)READS_FOOT : 0);
    return kinds[which].type;
}

void settle_without_here(Resolver *resolver, Node *value, Node *last, unsigned reads)
{
    if (!reads || value->cause || (last && last->cause))
        return;
    uint64_t told = resolver->findings->told;
    Finding *finding =
        finding_add(resolver->findings, FINDING_NOT_HERE, last ? span_join(value->span, last->span) : value->span,
                    "where the places of a series lie is settled before anything is known of `here`");
    finding_mend(resolver->findings, finding, "work it out from something else");
    resolve_broken(resolver, value, told);
    if (last)
        resolve_broken(resolver, last, told);
}

/* Whether the row says how long it is, or which way it is worked, by one of these options. */
static bool says(const Node *row, uint32_t one, uint32_t other)
{
    return option_node(row->options, one) || option_node(row->options, other);
}

/* Whether an option of the series holds for the row. A guide's place has neither a length nor a way. */
static bool is_inherited(const Node *row, const Node *option, bool guided)
{
    bool plain = option->slot == PLACE_TOWARD || option->slot == PLACE_LENGTH || option->slot == PLACE_UNTIL;
    bool otherwise = option->slot == PLACE_UNTIL ? says(row, PLACE_LENGTH, PLACE_TOWARD)
                                                 : plain && option_node(row->options, PLACE_UNTIL);
    return option->kind == NODE_OPTION && option->slot <= PLACE_LAST && !option_node(row->options, option->slot)
           && !otherwise && !(guided && plain);
}

/* A row says what its series says for it, where it says nothing itself. */
static void inherit(Resolver *resolver, const Node *series, Node *row)
{
    bool guided = option_node(row->options, PLACE_GUIDE)
                  || (option_node(series->options, PLACE_GUIDE) && !says(row, PLACE_TOWARD, PLACE_LENGTH)
                      && !option_node(row->options, PLACE_UNTIL));
    Node **end = &row->options;
    while (*end)
        end = &(*end)->next;
    for (const Node *option = series->options; option; option = option->next) {
        if (!is_inherited(row, option, guided) || (option->slot == PLACE_GUIDE && !guided))
            continue;
        Node *copy = arena_take(resolver->arena, sizeof *copy);
        *copy = *option;
        copy->next = NULL;
        *end = copy;
        end = &copy->next;
    }
    keep_ends_from_butt(resolver, row->first, row, PLACE_FROM, PLACE_UNTIL);
}

/* The rows among the statements, in loops and cases too, in the slots of which is noted whether they hold any;
 * what these go by has to be known without `here`. */
static void settle_rows(Resolver *resolver, const Node *series, Node *statements)
{
    for (Node *node = statements; node; node = node->next) {
        if (node->kind == NODE_PLACE && !node->cause)
            inherit(resolver, series, node);
        for (Node *branch = node; branch; branch = branch->kind == NODE_IF ? branch->second : NULL) {
            if (branch->kind != NODE_FOR && branch->kind != NODE_IF && branch->kind != NODE_BLOCK)
                break;
            branch->slot = branch->kind != NODE_BLOCK && content_of_statement(branch) & HOLDS_PLACES;
            if (branch->slot)
                settle_without_here(resolver, branch->first, branch->kind == NODE_FOR ? branch->second : NULL,
                                    branch->detail);
            settle_rows(resolver, series, branch->body);
        }
    }
}

/* By rule there is a place for each guide or as many as are counted, from the first to the last. */
static void check_spacing(Resolver *resolver, Node *series)
{
    static const struct {
        uint32_t rule, other; /* either will do */
        const char *what, *edit;
    } needs[] = {
        {SERIES_FIRST, SERIES_FIRST, "where the first place lies", " first: 10 cm"},
        {SERIES_LAST, SERIES_LAST, "where the last place lies", " last: 150 cm"},
        {SERIES_GUIDES, SERIES_COUNT, "how many places there are", " count: 9"},
    };
    bool by_rule = false;
    for (uint32_t rule = SERIES_FIRST; rule <= SERIES_COUNT; rule++)
        by_rule |= option_node(series->options, rule) != NULL;
    exclude(resolver, series, SERIES_GUIDES, SERIES_COUNT);
    exclude(resolver, series, SERIES_GUIDES, PLACE_GUIDE);
    exclude(resolver, series, SERIES_GUIDES, PLACE_TOWARD);
    exclude(resolver, series, SERIES_GUIDES, PLACE_LENGTH);
    for (size_t i = 0; by_rule && i < sizeof needs / sizeof *needs; i++) {
        if (option_node(series->options, needs[i].rule) || option_node(series->options, needs[i].other)
            || list_broken(series->options))
            continue;
        Span header = header_span(series);
        uint64_t told = resolver->findings->told;
        Finding *finding =
            finding_add(resolver->findings, FINDING_OPTION_MISSING, header, "say %s", needs[i].what);
        finding_mend(resolver->findings, finding, "write `%s`, with your own number", needs[i].edit + 1);
        finding_edit(resolver->findings, finding, (Span){header.end, header.end, header.file}, "%s",
                     needs[i].edit);
        resolve_broken(resolver, series, told);
        return; /* one thing at a time */
    }
}

/* What sets the places out rests on nothing that is known of them alone. */
static void settle_spacing(Resolver *resolver, Node *series)
{
    for (uint32_t rule = SERIES_FIRST; rule <= SERIES_COUNT; rule++) {
        Node *value = option_value(series->options, rule);
        resolver->reads = 0;
        if (value && value->type != TYPE_BROKEN && infer(resolver, value) != TYPE_BROKEN)
            settle_without_here(resolver, value, NULL, resolver->reads);
    }
}

/* A row for the places that are set out by rule. */
static void make_row(Resolver *resolver, Node *series)
{
    Node *row = arena_take(resolver->arena, sizeof *row);
    *row = (Node){
        .kind = NODE_PLACE, .span = header_span(series), .first = option_value(series->options, SERIES_FIRST)};
    series->second = row;
    if (row->first)
        inherit(resolver, series, row);
}

void resolve_series(Resolver *resolver, Node *series, Within within)
{
    (void)within;
    const Node *outer = resolver->series;
    unsigned reads = resolver->reads;
    resolver->series = series;
    resolve_options(resolver, series);
    exclude_of_place(resolver, series);
    check_spacing(resolver, series);
    settle_spacing(resolver, series);
    resolver->reads = 0;
    check_body(resolver, series->body, IN_SERIES);
    series->slot = slot_of_place(resolver, series->body);
    resolver->series = outer;
    resolver->reads = reads;
    settle_rows(resolver, series, series->body);
    make_row(resolver, series);
}
