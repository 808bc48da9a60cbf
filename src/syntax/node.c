/* Makes the tree's nodes from tokens. */
#include "syntax/reader.h"

#include "parser.h"

#include <string.h>

/* Something here could not be read: the fault of the text told last says why. */
static void mark_broken(Reader *reader, Node *node)
{
    node->cause = cause_mark(reader->findings, findings_since(reader->findings, reader->told), node->span);
}

Node *node_broken(Reader *reader, Location at)
{
    Node *node = node_make(reader, NODE_BROKEN, at);
    mark_broken(reader, node);
    return node;
}

/* Digits and at most one point, at most 15 digits: both parts of the quotient are exact, so the double is the
 * nearest one. */
static double read_decimal(const char **at, bool *whole)
{
    static const double scale[] = {1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                   1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    uint64_t digits = 0;
    const char *next = *at, *point = NULL;
    for (; (*next >= '0' && *next <= '9') || *next == '.'; next++) {
        if (*next == '.')
            point = next;
        else
            digits = digits * 10 + (uint64_t)(*next - '0');
    }
    *at = next;
    *whole = !point;
    return point ? (double)digits / scale[next - point - 1] : (double)digits;
}

static const char *over_blanks(const char *at, const char *end)
{
    while (at < end && (*at == ' ' || *at == '\t'))
        at++;
    return at;
}

static bool is_digit(char byte) { return byte >= '0' && byte <= '9'; }

/* "12", "0.15", "3/4", "3 1/4" or "3-1/4". Returns false where nothing stands below the stroke. */
static bool read_numeral(const char **at, const char *end, double *value, bool *whole)
{
    *value = read_decimal(at, whole);
    const char *next = over_blanks(*at, end);
    next += next < end && *next == '-';
    double above = *value;
    if (next < end && next > *at && is_digit(*next)) {
        *at = next;
        above = read_decimal(at, whole);
    } else if (*at >= end || **at != '/')
        return true;
    else
        *value = 0;
    ++*at;
    double below = read_decimal(at, whole);
    *whole = false;
    if (below == 0)
        return false;
    *value += above / below;
    return true;
}

/* The numeral; of feet and inches together the inches. NAN-free: a zero below the stroke is reported. */
static double read_value(Reader *reader, Node *node, bool *whole)
{
    const char *at = reader->source->bytes + node->span.start;
    const char *end = reader->source->bytes + node->span.end;
    double value, feet = 0;
    bool sound = read_numeral(&at, end, &value, whole);
    const char *mark = over_blanks(at, end);
    if (mark < end && (*mark == '\'' || *mark == 'f')) {
        at = over_blanks(mark + (*mark == 'f' ? 2 : 1), end);
        at += at < end && *at == '-';
        feet = at < end ? value : 0;
        if (at < end)
            sound = read_numeral(&at, end, &value, whole);
    }
    if (sound)
        return feet * 12 + value;
    Finding *finding = finding_add(reader->findings, FINDING_BAD_NUMBER, node->span,
                                   "this fraction has nothing below its stroke");
    finding_mend(reader->findings, finding, "write a number of 1 or more below the stroke");
    node->detail = UNIT_UNKNOWN;
    mark_broken(reader, node);
    return 0;
}

Node *node_number(Reader *reader, Unit unit, Location at)
{
    Node *node = node_leaf(reader, NODE_NUMBER, at);
    node->detail = (uint8_t)unit;
    if (unit == UNIT_UNKNOWN) {
        mark_broken(reader, node);
        return node;
    }
    if (unit_measure(unit) == MEASURE_LENGTH && reader->tree->first_length == UNIT_NONE) {
        reader->tree->first_length = unit;
        reader->first_length_at = at.start;
    }
    bool whole;
    double value = read_value(reader, node, &whole);
    /* A bare fraction or decimal is a ratio even where its value is whole. */
    node->slot = whole;
    node->number = unit == UNIT_PERCENT ? value / 100 : value * unit_factor(unit);
    return node;
}

Node *node_per_unit(Reader *reader, Unit unit, Location at)
{
    Node *node = node_leaf(reader, NODE_NUMBER, at);
    node->detail = (uint8_t)unit;
    node->number = unit_factor(unit);
    return node;
}

/* Bytes of the sign that begins at `at`: its lead byte and those that go on from it. */
static size_t sign_length(const char *at)
{
    size_t length = 1;
    while (inside_character(at[length]))
        length++;
    return length;
}

/* A text with a finding lacks its closing quote, or stands in quotes of another kind, which may take more than a
 * byte. */
Node *node_text(Reader *reader, Unit unit, Location place)
{
    Node *node = node_leaf(reader, NODE_TEXT, place);
    if (unit == UNIT_UNKNOWN)
        mark_broken(reader, node);
    const char *at = reader->source->bytes + place.start;
    const char *end = reader->source->bytes + place.end;
    if (unit != UNIT_UNKNOWN)
        end--;
    else if (*at != '"')
        do
            end--;
        while (inside_character(*end));
    at += sign_length(at);
    if (!memchr(at, '\\', (size_t)(end - at))) {
        node->text = text_of(reader->texts, at, (size_t)(end - at));
        return node;
    }
    char *plain = arena_take(reader->arena, (size_t)(end - at) + 1), *out = plain;
    for (; at < end; at++) {
        at += *at == '\\' && at + 1 < end;
        *out++ = *at;
    }
    node->text = text_of(reader->texts, plain, (size_t)(out - plain));
    return node;
}

Node *node_colour(Reader *reader, Unit unit, Location at)
{
    Node *node = node_leaf(reader, NODE_COLOUR, at);
    node->detail = (uint8_t)unit;
    if (unit == UNIT_UNKNOWN)
        mark_broken(reader, node);
    uint32_t colour = 0;
    for (uint32_t i = at.start + 1; i < at.end && unit != UNIT_UNKNOWN; i++) {
        unsigned digit = (unsigned char)reader->source->bytes[i];
        colour = colour * 16 + (digit <= '9' ? digit - '0' : (digit | 0x20u) - 'a' + 10);
    }
    node->number = colour;
    return node;
}

static const Text *text_at(const Reader *reader, Location at)
{
    return text_of(reader->texts, reader->source->bytes + at.start, at.end - at.start);
}

Node *node_name(Reader *reader, Location at)
{
    Node *node = node_leaf(reader, NODE_NAME, at);
    node->text = text_at(reader, at);
    return node;
}

Node *node_in_module(Reader *reader, Location module, Location name)
{
    Node *node = node_make(reader, NODE_NAME, (Location){module.start, name.end});
    node->detail = 1;
    node->text = text_at(reader, name);
    node->first = node_name(reader, module);
    return node;
}

/* `name:` without its colon. */
Node *node_label(Reader *reader, NodeKind kind, Location label, Location at)
{
    Node *node = node_make(reader, kind, at);
    const char *start = reader->source->bytes + label.start;
    size_t length = label.end - label.start - 1;
    while (length && (start[length - 1] == ' ' || start[length - 1] == '\t'))
        length--;
    node->text = text_of(reader->texts, start, length);
    return node;
}

NodeList node_list_split(NodeList *list, NodeKind kind)
{
    NodeList taken = {0}, left = {0};
    for (Node *node = list->first, *next; node; node = next) {
        next = node->next;
        node->next = NULL;
        NodeList *to = node->kind == kind ? &taken : &left;
        *(to->last ? &to->last->next : &to->first) = node;
        to->last = node;
    }
    *list = left;
    return taken;
}

NodeList node_list_join(NodeList list, NodeList more)
{
    if (!list.first || !more.first)
        return list.first ? list : more;
    list.last->next = more.first;
    return (NodeList){list.first, more.last};
}

static void words_begin(Reader *reader, const Location *ahead)
{
    reader->words = reader->words_before = HASH_START;
    if (ahead)
        reader->words = hash_words(HASH_START, reader->source->bytes + ahead->start, ahead->end - ahead->start);
}

void declaration_read(Reader *reader, const Node *declaration, const Location *ahead)
{
    if (!declaration || declaration->kind != NODE_USE)
        reader->mark = hash_word(reader->mark, ahead ? reader->words_before : reader->words);
    words_begin(reader, ahead);
}

uint64_t mark_begin(Reader *reader, const Location *ahead)
{
    uint64_t before = reader->mark;
    reader->mark = HASH_START;
    words_begin(reader, ahead);
    return before;
}

Node *node_lost(Reader *reader, Location at)
{
    static const struct {
        int keyword;
        NodeKind kind;
    } kinds[] = {
        {SIZE, NODE_SIZE},   {THREAD, NODE_THREAD},   {GUIDE, NODE_GUIDE},
        {BLANK, NODE_BLANK}, {PATTERN, NODE_PATTERN}, {LET, NODE_LET},
    };
    const Tokens *tokens = &reader->tokens;
    uint32_t token = reader->position;
    while (token && tokens->starts[token - 1] >= at.start)
        token--;
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        if (tokens->kinds[token] != kinds[i].keyword || tokens->kinds[token + 1] != WORD)
            continue;
        Node *node = node_make(reader, kinds[i].kind, at);
        Location place = {tokens->starts[token + 1], tokens->ends[token + 1]};
        Node *name = node_name(reader, place), *lost = node_broken(reader, at);
        node->first = kinds[i].kind == NODE_LET ? lost : name;
        node->second = kinds[i].kind == NODE_LET ? name : NULL;
        node->options = node->body = lost;
        return node;
    }
    return NULL;
}
