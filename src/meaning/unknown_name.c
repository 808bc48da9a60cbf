/* Names: looked up, and what a name that nobody knows most likely stands for. */
#include "meaning/likely.h"
#include "meaning/mend.h"
#include "meaning/std_names.h"

#include <ctype.h>
#include <string.h>

/* Names are compared one by one for a suggestion; after this many nobody waits for more. Values that rest on one
 * another are looked at within one another, so that searches are counted where they begin. */
enum { SUGGESTIONS = 25 };

static bool may_search(Resolver *resolver)
{
    return resolver->findings->list.count <= SUGGESTIONS && resolver->searches++ <= SUGGESTIONS;
}

/* What is looked for, and the best that was found so far. */
typedef struct NameSearch {
    Resolver *resolver;
    const Node *name;
    NameUse use;
    TypeSet set;
    const char *small;   /* the word in small letters */
    unsigned best;       /* slips between it and `nearest` */
    const char *nearest; /* as it is written here */
    const char *only;    /* the one of this kind that there is */
    const char *part;    /* one that holds the word, or that it holds */
    unsigned count, part_count;
} NameSearch;

static void consider(NameSearch *search, const char *candidate, const char *written_as)
{
    enum { SHORTEST_PART = 3 };
    const char *small = in_small(search->resolver->findings->words, candidate);
    size_t length = strlen(small), wanted = strlen(search->small);
    bool alike = (length > wanted ? length - wanted : wanted - length) <= search->best;
    unsigned distance = alike ? text_distance(search->small, small, search->best) : search->best;
    if (distance < search->best && distance < strlen(small) && (!distance || distance < strlen(search->small))) {
        search->best = distance;
        search->nearest = written_as;
    }
    search->count++;
    search->only = search->count == 1 ? written_as : NULL;
    if (strlen(small) < SHORTEST_PART || strlen(search->small) < SHORTEST_PART
        || !(strstr(small, search->small) || strstr(search->small, small)))
        return;
    search->part_count++;
    search->part = search->part_count == 1 ? written_as : NULL;
}

static bool type_serves(unsigned type, TypeSet set)
{
    if (type == TYPE_BROKEN)
        return false;
    if (!set)
        return type != TYPE_BLANK && type != TYPE_GUIDE;
    return type_fits(type, set);
}

static bool serves(const NameSearch *search, Declaration *declaration)
{
    NodeKind kind = (NodeKind)declaration->node->kind;
    switch (search->use) {
    case NAME_OF_SIZE: return kind == NODE_SIZE;
    case NAME_OF_PATTERN: return kind == NODE_PATTERN;
    case NAME_OF_BLANK: return kind == NODE_BLANK;
    default: break;
    }
    if (kind == NODE_SIZE || kind == NODE_PATTERN || (kind == NODE_LET && declaration->checked == IN_WORK))
        return false;
    unsigned type = kind == NODE_LET ? resolve_let(search->resolver, declaration) : declaration->type;
    return type_serves(type, search->set);
}

static void consider_one(NameSearch *search, Declaration *one, const char *name, const char *alias)
{
    if (one && serves(search, one))
        consider(search, name, alias ? text_format(search->resolver->arena, "%s.%s", alias, name) : name);
}

/* What it declares, and what it hands on. */
static void consider_module(NameSearch *search, const Module *module, const char *alias)
{
    for (uint32_t i = 0; i < module->names.count; i++)
        consider_one(search, module->names.items[i], module->names.items[i]->name->bytes, alias);
    for (uint32_t i = 0; i < module->passes.count; i++) {
        const Declaration *pass = module->passes.items[i];
        consider_one(search, ((const Passed *)pass->value)->of[search->use == NAME_OF_SIZE], pass->name->bytes,
                     alias);
    }
}

/* Locals first: of two names that are as near, the one close by is meant. */
static void consider_all(NameSearch *search, const Module *module)
{
    const Resolver *resolver = search->resolver;
    bool inside = module == resolver->module && !module_name(search->name);
    for (uint32_t i = resolver->locals.count; inside && search->use == NAME_OF_VALUE && i > resolver->floor; i--)
        if (type_serves(resolver->locals.items[i - 1].type, search->set))
            consider(search, resolver->locals.items[i - 1].name->bytes, resolver->locals.items[i - 1].name->bytes);
    consider_module(search, module, module_name(search->name) ? search->name->first->text->bytes : NULL);
    for (uint32_t i = 0; inside && i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (use->module)
            consider_module(search, use->module, use->alias ? use->alias->bytes : NULL);
    }
    if (inside && search->use == NAME_OF_SIZE && resolver->sizes)
        consider_module(search, resolver->sizes, NULL);
}

/* --- what is declared nowhere, and where it could be --- */

/* A line of its own: before the first declaration of this kind, or else behind the edition. */
static void edit_line(Resolver *resolver, Finding *finding, NodeKind kind, const char *line)
{
    const Tree *tree = resolver->module->tree;
    const Node *first = NULL;
    for (const Node *node = resolver->module->declarations; node && !first; node = node->next)
        first = node->kind == kind ? node : NULL;
    Span span = {0, 0, tree->file};
    if (first) {
        span.start = span.end = first->span.start;
        finding_edit(resolver->findings, finding, span, "%s\n", line);
        return;
    }
    if (tree->edition)
        span.start = span.end = tree->edition->span.end;
    finding_edit(resolver->findings, finding, span, tree->edition ? "\n%s" : "%s\n", line);
}

/* How wide the file's first thread is said to be: "turns: 67 per cm". */
static const char *width_as_others(Resolver *resolver)
{
    static const char *const options[] = {"turns", "diameter", "size"};
    for (const Node *node = resolver->module->declarations; node; node = node->next)
        for (const Node *option = node->kind == NODE_THREAD ? node->options : NULL; option; option = option->next)
            for (size_t i = 0; option->kind == NODE_OPTION && i < sizeof options / sizeof *options; i++)
                if (strcmp(option->text->bytes, options[i]) == 0)
                    return written(resolver->findings->words, resolver->sources, option->span);
    return "turns: 67 per cm";
}

/* A declaration of the name, for what is wanted of it; NULL where none would do. */
static const char *declaration_of(Resolver *resolver, const NameSearch *search, NodeKind *kind)
{
    const char *word = search->name->text->bytes;
    if (search->use == NAME_OF_BLANK) {
        *kind = NODE_BLANK;
        return finding_text(resolver->findings, "blank %s { at 0 mm: 12 mm  at 100 cm: 4 mm }", word);
    }
    if (search->use == NAME_OF_SIZE) {
        *kind = NODE_SIZE;
        return finding_text(resolver->findings, "size %s { diameter: 0.15 mm }", word);
    }
    if (search->use == NAME_OF_PATTERN)
        return NULL;
    if (search->set & (SET(TYPE_THREAD) | SET_THREADS)) {
        *kind = NODE_THREAD;
        const char *colour = colour_of_name(word);
        return finding_text(resolver->findings, "thread %s { %s%s%s }", word, width_as_others(resolver),
                            colour ? ", colour: " : "", colour ? colour : "");
    }
    if (search->set & SET(TYPE_GUIDE)) {
        *kind = NODE_GUIDE;
        return finding_text(resolver->findings, "guide %s { foot: 14 mm }", word);
    }
    *kind = NODE_LET;
    if (strcmp(word, "in") == 0)
        return NULL; /* the one word of the language that is read as a value, for `units: in` */
    const char *value = search->set ? usual_value(resolver, search->set, resolver->spot) : NULL;
    return value ? finding_text(resolver->findings, "let %s = %s", word, value) : NULL;
}

static const char *what_is_wanted(Resolver *resolver, const NameSearch *search)
{
    switch (search->use) {
    case NAME_OF_SIZE: return "a thread size";
    case NAME_OF_PATTERN: return "a pattern";
    case NAME_OF_BLANK: return "a blank";
    default: return search->set ? type_set_phrase(resolver->findings->words, search->set) : "a value";
    }
}

/* Where a thread, guide or number is wanted in a pattern, it is likelier one of the pattern's than undeclared. */
static const char *likely_instead(Resolver *resolver, const NameSearch *search)
{
    if (search->nearest || search->part)
        return search->nearest ? search->nearest : search->part;
    if (search->use != NAME_OF_VALUE)
        return search->only;
    if (!search->name->text->bytes[1] && resolver->locals.count > resolver->floor) {
        const char *local = resolver->locals.items[resolver->locals.count - 1].name->bytes;
        if (!local[1] && type_serves(resolver->locals.items[resolver->locals.count - 1].type, search->set))
            return local; /* `for i in ...`, and then `j` */
    }
    if (search->set & SET(TYPE_GUIDE))
        return search->only;
    bool inside_pattern = resolver->pattern_depth > 0;
    if (inside_pattern && search->only && search->set && !(search->set & ~ANY_NUMBER))
        return search->only; /* the one number that the pattern has */
    return inside_pattern && search->set & SET(TYPE_THREAD) ? thread_nearby(resolver) : NULL;
}

static void mend_unknown(Resolver *resolver, Finding *finding, const NameSearch *search)
{
    Findings *findings = resolver->findings;
    const char *word = search->name->text->bytes;
    const char *giver = search->best > 0 ? std_file_with(word, search->use == NAME_OF_PATTERN) : NULL;
    const char *instead = giver ? NULL : likely_instead(resolver, search);
    NodeKind kind = NODE_USE;
    const char *line = instead ? NULL
                       : giver ? finding_text(findings, "use \"%s\"", giver)
                               : declaration_of(resolver, search, &kind);
    if (instead) {
        finding_mend(findings, finding, "write `%s`", instead);
        finding_edit(findings, finding, search->name->span, "%s", instead);
    } else if (line) {
        finding_mend(findings, finding,
                     giver ? "the standard library has it: write `%s`" : "declare it: `%s`, with your own values",
                     line);
        edit_line(resolver, finding, kind, line);
    } else
        finding_mend(findings, finding, "declare it, or `use` the file that does");
}

/* Words that are said between a name and what it stands beside. */
static bool is_filler(const char *word)
{
    static const char *const words[] = {"the", "a", "an", "my", "some", "with", "from", "about", "around"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcasecmp(words[i], word) == 0)
            return true;
    return false;
}

/* The word right behind the span, on its line; length 0 if there is none. */
static Span word_behind(const Resolver *resolver, Span span)
{
    const char *bytes = resolver->sources->list.items[span.file].bytes;
    span.start = span.end + (uint32_t)strspn(bytes + span.end, " \t");
    span.end = span.start;
    while (isalnum((unsigned char)bytes[span.end]) || bytes[span.end] == '_'
           || (unsigned char)bytes[span.end] >= 0x80)
        span.end++;
    return span;
}

/* `of the navy`, `spacer navy`: what is wrong is the word before a name. */
static bool mend_by_word_behind(Resolver *resolver, Finding *finding, const Node *name)
{
    Findings *findings = resolver->findings;
    Span next = word_behind(resolver, name->span);
    if (next.end == next.start)
        return false;
    const char *word = written(findings->words, resolver->sources, next);
    bool function = function_of(name->text->bytes) == FUNCTION_SPACER;
    if (!function && !is_filler(name->text->bytes))
        return false;
    const char *text = function ? finding_text(findings, "%s(%s)", name->text->bytes, word) : word;
    finding_mend(findings, finding, "write `%s`", text);
    finding_edit(findings, finding, span_join(name->span, next), "%s", text);
    return true;
}

static void report_unknown(Resolver *resolver, const Module *module, const Node *name, NameUse use, TypeSet set)
{
    Findings *findings = resolver->findings;
    NameSearch search = {resolver, name, use, set, .best = strlen(name->text->bytes) < 4 ? 2 : 3};
    bool shown = may_search(resolver);
    search.small = in_small(resolver->arena, shown ? name->text->bytes : "");
    if (shown)
        consider_all(&search, module);
    Finding *finding =
        finding_add(findings, FINDING_UNKNOWN_NAME, name->span, "`%s` is not declared", name->text->bytes);
    finding_label(findings, finding, "%s belongs here", what_is_wanted(resolver, &search));
    if (!shown)
        finding_mend(findings, finding, "declare it, or `use` the file that does");
    else if (!mend_by_word_behind(resolver, finding, name))
        mend_unknown(resolver, finding, &search);
}

/* --- names of used files: `shop.navy` --- */

/* Whether the path's last part is the word: "std/trims" is used as `trims` by many. */
static bool ends_in(const char *path, const char *word)
{
    const char *last = strrchr(path, '/');
    return strcmp(last ? last + 1 : path, word) == 0;
}

bool is_name_here(const Resolver *resolver, const Text *name)
{
    if (local_find((Resolver *)resolver, name))
        return true;
    const Module *module = resolver->module;
    bool known = module_gives(module, name, false);
    for (uint32_t i = 0; i < module->uses.count && !known; i++) {
        const Use *use = &module->uses.items[i];
        known = use->module && !use->alias && module_gives(use->module, name, false);
    }
    return known;
}

static void report_no_alias(Resolver *resolver, const Node *name)
{
    const Module *module = resolver->module;
    const char *word = name->first->text->bytes, *nearest = NULL;
    const Use *unnamed = NULL;
    for (uint32_t i = 0; i < module->uses.count; i++) {
        const Use *use = &module->uses.items[i];
        if (use->alias && text_distance(word, use->alias->bytes, 2) <= 2)
            nearest = use->alias->bytes;
        if (!use->alias && use->node && ends_in(use->path->bytes, word))
            unnamed = use;
    }
    Findings *findings = resolver->findings;
    Finding *finding =
        finding_add(findings, FINDING_UNKNOWN_NAME, name->first->span, "no file is used as `%s`", word);
    const char *path = std_file_named(word), *plain = name->text->bytes;
    bool first_known = is_name_here(resolver, name->first->text), known = is_name_here(resolver, name->text);
    if (known && first_known) { /* `foot(navy. foam)` */
        finding_mend(findings, finding, "write a comma between them: `%s, %s`", word, plain);
        finding_edit(findings, finding, name->span, "%s, %s", word, plain);
    } else if (nearest) {
        finding_mend(findings, finding, "write `%s`", nearest);
        finding_edit(findings, finding, name->first->span, "%s", nearest);
    } else if (known) {
        finding_mend(findings, finding, "write `%s` alone: its file is used without a name", plain);
        finding_edit(findings, finding, name->span, "%s", plain);
    } else if (unnamed) {
        finding_mend(findings, finding, "write `use \"%s\" as %s`", unnamed->path->bytes, word);
        finding_edit(findings, finding, behind(unnamed->node->first->span), " as %s", word);
    } else if (path) {
        const char *line = finding_text(findings, "use \"%s\" as %s", path, word);
        finding_mend(findings, finding, "write `%s`", line);
        edit_line(resolver, finding, NODE_USE, line);
    } else
        finding_mend(findings, finding, "write `use \"...\" as %s`, with the file's name", word);
}

const char *nearest_name(Resolver *resolver, const char *words, NameUse use, TypeSet set)
{
    if (!may_search(resolver))
        return NULL;
    char *word = arena_copy(resolver->findings->words, words, strlen(words) + 1);
    for (char *at = word; *at; at++)
        *at = strchr(" -", *at) ? '_' : *at;
    Node name = {.kind = NODE_NAME, .text = text_of_string(resolver->texts, word)};
    NameSearch search = {resolver, &name, use, set, .best = strlen(word) < 4 ? 2 : 3};
    search.small = in_small(resolver->arena, word);
    consider_all(&search, resolver->module);
    return search.nearest;
}

static void consider_rods(NameSearch *search, const Module *module, const Node *but)
{
    Resolver *resolver = search->resolver;
    for (const Node *node = module->declarations; node; node = node->next)
        if (node->kind == NODE_ROD && node != but)
            consider(search, node->first->text->bytes,
                     written(resolver->arena, resolver->sources, node->first->span));
}

const char *nearest_rod(Resolver *resolver, const Text *title, const Node *but)
{
    if (!may_search(resolver))
        return NULL;
    NameSearch search = {.resolver = resolver, .best = title->length < 4 ? 2 : 3};
    search.small = in_small(resolver->arena, title->bytes);
    const Module *module = resolver->module;
    consider_rods(&search, module, but);
    for (uint32_t i = 0; i < module->uses.count; i++)
        if (module->uses.items[i].module)
            consider_rods(&search, module->uses.items[i].module, but);
    return search.nearest ? search.nearest : search.part ? search.part : search.only;
}

Declaration *find_name(Resolver *resolver, const Node *name, NameUse use, TypeSet set, ValueSpot spot)
{
    NameFound found =
        module_find(resolver->module, resolver->sizes, name, use == NAME_OF_SIZE, resolver->findings);
    resolver->spot = spot;
    if (found.unknown_in && module_name(name) && found.unknown_in == resolver->module)
        report_no_alias(resolver, name);
    else if (found.unknown_in)
        report_unknown(resolver, found.unknown_in, name, use, set);
    resolver->spot = (ValueSpot){0};
    return found.declaration;
}
