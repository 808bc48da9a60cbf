#include "meaning/likely.h"

#include "meaning/mend.h"
#include "syntax/phrase.h"
#include "trade/colour_names.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What is usual at a spot: lengths in mm, to choose a unit by, and a value to begin with. */
typedef struct Usual {
    NodeKind owner;
    const char *part;
    double least, most;
    const char *metric, *inches;
} Usual;

/* Common practice, no source. */
static const Usual usuals[] = {
    {NODE_ROD, "overlap", 10, 300, "6 cm", "2 1/2 in"},
    {NODE_PLACE, SPOT_MARK, 10, 5000, "20 cm", "8 in"},
    {NODE_PLACE, "length", 4, 1500, "50 mm", "2 in"},
    {NODE_PLACE, "angle", 0, 0, "30 deg", "30 deg"},
    {NODE_PLACE, "until", 10, 5000, "30 cm", "12 in"},
    {NODE_PART, SPOT_MARK, 0, 5000, "24 cm", "9 1/2 in"},
    {NODE_PART, "length", 1, 800, "24 cm", "9 1/2 in"},
    {NODE_PART, "until", 10, 5000, "24 cm", "9 1/2 in"},
    {NODE_PART, "diameter", 0.6, 60, "26 mm", "1 in"},
    {NODE_UNDER, "offset", 0.2, 200, "3 mm", "1/8 in"},
    {NODE_UNDER, "length", 4, 1500, "50 mm", "2 in"},
    {NODE_STATION, SPOT_MARK, 0, 6000, "100 cm", "40 in"},
    {NODE_STATION, SPOT_DIAMETER, 0.6, 60, "9 mm", "3/8 in"},
    {NODE_BAND, SPOT_EXTENT, 0.8, 400, "12 mm", "1/2 in"},
    {NODE_BAND, "measured", 0.8, 400, "12 mm", "1/2 in"},
    {NODE_INLAY, SPOT_EXTENT, 0.1, 20, "2 turns", "2 turns"},
    {NODE_INLAY, "at", 0.8, 400, "1/2", "1/2"},
    {NODE_INLAY, "every", 0.8, 100, "10 turns", "10 turns"},
    {NODE_FADE_TO, "over", 1, 200, "24 turns", "24 turns"},
    {NODE_FADE_OF, SPOT_EXTENT, 2, 800, "40 mm", "1 1/2 in"},
    {NODE_GAP, SPOT_EXTENT, 0.2, 100, "2 mm", "1/16 in"},
    {NODE_CHEVRON, "ends", 1, 30, "12 turns", "12 turns"},
    {NODE_CHEVRON, "spacing", 3, 200, "20 mm", "3/4 in"},
    {NODE_CHEVRON, "lead", 3, 500, "20 mm", "3/4 in"},
    {NODE_CHEVRON, "turns", 3, 500, "4 turns", "4 turns"},
    {NODE_SIZE, "diameter", 0.04, 0.8, "0.15 mm", "0.006 in"},
    {NODE_THREAD, "diameter", 0.04, 0.8, "0.15 mm", "0.006 in"},
    {NODE_THREAD, "period", 10, 2000, "9 cm", "3 1/2 in"},
    {NODE_THREAD, "stock", 3000, 1e7, "100 m", "100 yd"},
    {NODE_THREAD, "spool", 3000, 1e7, "100 m", "100 yd"},
    {NODE_GUIDE, "foot", 4, 60, "14 mm", "9/16 in"},
    {NODE_GUIDE, "gap", 1, 60, "8 mm", "5/16 in"},
    {NODE_GUIDE, "width", 0.3, 8, "2 mm", "3/32 in"},
    {NODE_GUIDE, "height", 0.2, 5, "0.8 mm", "1/32 in"},
    {NODE_GUIDE, "ramp", 0.5, 30, "5 mm", "3/16 in"},
    {NODE_GUIDE, "before", 0.5, 30, "3 mm", "1/8 in"},
    {NODE_GUIDE, "ring", 3, 60, "12 mm", "1/2 in"},
    {NODE_GUIDE, "tall", 4, 90, "20 mm", "3/4 in"},
    {NODE_BENCH, "free", 40, 500, "15 cm", "6 in"},
    {NODE_BENCH, "tolerance", 0.04, 5, "0.5 mm", "0.02 in"},
    {NODE_BENCH, "rule", 0.2, 5, "0.5 mm", "1/64 in"},
    {NODE_BENCH, "callipers", 0.02, 0.5, "0.1 mm", "0.005 in"},
    {NODE_BENCH, "reading", 0.02, 2, "0.15 mm", "0.006 in"},
    {NODE_BENCH, "hand", 250, 5000, "1.5 m", "60 in"},
    {NODE_BENCH, "apart", 0.1, 5, "0.5 mm", "0.02 in"},
    {NODE_BENCH, "coat", 0.03, 2, "0.25 mm", "0.01 in"},
    {NODE_BENCH, "paper", 0.03, 1, "0.1 mm", "0.004 in"},
    {NODE_BENCH, "near", 250, 1500, "60 cm", "24 in"},
    {NODE_BENCH, "far", 800, 10000, "2 m", "80 in"},
    {NODE_BENCH, "bind", 0, 0, "6 turns", "6 turns"},
    {NODE_BENCH, "loop", 0, 0, "4 turns", "4 turns"},
    {NODE_BENCH, "final", 0, 0, "8 turns", "8 turns"},
    {NODE_BENCH, "carry", 0, 0, "15 turns", "15 turns"},
    {NODE_BENCH, "pack", 0, 0, "40 turns", "40 turns"},
    {NODE_BENCH, "shortest", 0, 0, "1 turn", "1 turn"},
    {NODE_BENCH, "measure", 0, 0, "40 turns", "40 turns"},
    {NODE_BENCH, "flattest", 0, 0, "10 deg", "10 deg"},
    {NODE_BENCH, "steepest", 0, 0, "70 deg", "70 deg"},
};
/* Where nothing is known of the spot: from a fine thread to a long rod. Common practice, no source. */
static const Usual anywhere = {0, "", 0.04, 5000, "9 mm", "3/8 in"};
/* Pitches of thread, mm: of rates; and the most turns of one band. Common practice, no source. */
static const double PITCH_LEAST = 0.08, PITCH_MOST = 0.6;
enum { MOST_TURNS = 3000 };

/* Kinds of nodes that share their rows. */
static NodeKind row_kind(NodeKind kind, const char *part)
{
    switch (kind) {
    case NODE_OVER: return NODE_UNDER;
    case NODE_SERIES: return NODE_PLACE;
    case NODE_DIAMOND:
    case NODE_SPIRAL: return NODE_CHEVRON;
    case NODE_FADE_OF: return strcmp(part, SPOT_EXTENT) == 0 ? kind : NODE_FADE_TO;
    default: return kind;
    }
}

static const Usual *usual_at(ValueSpot spot)
{
    for (size_t i = 0; spot.part && i < sizeof usuals / sizeof *usuals; i++)
        if (usuals[i].owner == row_kind(spot.owner, spot.part) && strcmp(usuals[i].part, spot.part) == 0)
            return &usuals[i];
    return &anywhere;
}

/* Ten times beyond what is usual: common practice, no source. */
bool is_far_from_usual(const Node *node, ValueSpot spot)
{
    const double FAR = 10;
    const Usual *usual = usual_at(spot);
    return usual != &anywhere && (node->number >= usual->most * FAR || node->number <= usual->least / FAR);
}

bool is_usual(const Node *node, ValueSpot spot)
{
    const Usual *usual = usual_at(spot);
    return node->kind != NODE_NUMBER || unit_measure((Unit)node->detail) != MEASURE_LENGTH
           || (node->number >= usual->least && node->number <= usual->most);
}

/* --- what the file writes at such spots --- */

enum { LOOKED_INTO = 16 }; /* values of one list */

typedef struct Seen {
    ValueSpot spot;
    uint32_t units[UNIT_COUNT], per[UNIT_COUNT];
} Seen;

/* Of a list the first ones say it all: it is looked into for each of its values that has a fault. */
static void see_value(Seen *seen, const Node *value)
{
    uint32_t left = LOOKED_INTO;
    for (const Node *item = value && value->kind == NODE_LIST ? value->first : value; item && left--;
         item = value->kind == NODE_LIST ? item->next : NULL) {
        if (item->kind == NODE_NUMBER && item->number != 0) /* nothing has no size to tell by */
            seen->units[item->detail == UNIT_TURN ? (unsigned)UNIT_TURNS : item->detail]++;
        if (item->kind == NODE_RATE && item->second->kind == NODE_NUMBER)
            seen->per[item->second->detail]++;
    }
}

static void see_node(Seen *seen, const Node *node)
{
    const char *part = seen->spot.part;
    bool marks = strcmp(part, SPOT_MARK) == 0 && (node->kind == NODE_PLACE || node->kind == NODE_STATION);
    if (!marks && row_kind((NodeKind)node->kind, part) != row_kind(seen->spot.owner, part))
        return;
    if (strcmp(part, SPOT_EXTENT) == 0 || strcmp(part, SPOT_MARK) == 0)
        see_value(seen, node->first);
    else if (node->kind == NODE_STATION)
        see_value(seen, node->second);
    else
        for (const Node *option = node->options; option; option = option->next)
            if (option->kind == NODE_OPTION && strcmp(option->text->bytes, part) == 0)
                see_value(seen, option->first);
}

static bool has_body(const Node *node)
{
    static const bool with_body[NODE_KIND_COUNT] = {
        [NODE_BAND] = true,   [NODE_CHEVRON] = true, [NODE_DIAMOND] = true, [NODE_SPIRAL] = true,
        [NODE_REPEAT] = true, [NODE_MIRROR] = true,  [NODE_FOR] = true,     [NODE_SYMMETRIC] = true,
        [NODE_IF] = true,     [NODE_BLOCK] = true,   [NODE_UNDER] = true,   [NODE_OVER] = true,
        [NODE_PLACE] = true,  [NODE_BLANK] = true,   [NODE_PATTERN] = true, [NODE_ROD] = true,
        [NODE_SERIES] = true,
    };
    return with_body[node->kind];
}

/* A file holds no deeper blocks than LIMIT_NESTING. */
static void see_all(Seen *seen, const Node *list)
{
    for (const Node *node = list; node; node = node->next) {
        see_node(seen, node);
        if (has_body(node))
            see_all(seen, node->body);
        if (node->kind == NODE_IF && node->second) {
            Node otherwise = *node->second;
            otherwise.next = NULL;
            see_all(seen, &otherwise);
        }
    }
}

static Seen seen_at(const Resolver *resolver, ValueSpot spot)
{
    Seen seen = {.spot = spot};
    if (spot.part)
        see_all(&seen, resolver->module->declarations);
    return seen;
}

/* --- what a parameter is used as --- */

static bool is_name_of(const Node *value, const Text *name, const Node *but)
{
    return value && value != but && value->kind == NODE_NAME && value->text == name;
}

/* Whether statements use the name where a value of this kind stands; `but` is the use that is being judged. A file
 * holds no deeper blocks than LIMIT_NESTING. */
static bool used_as(const Node *list, const Text *name, const Node *but, unsigned type)
{
    static const bool wound[NODE_KIND_COUNT] = {[NODE_BAND] = true,    [NODE_INLAY] = true,   [NODE_STRAND] = true,
                                                [NODE_FADE_TO] = true, [NODE_FADE_OF] = true, [NODE_GAP] = true};
    bool threads = type == TYPE_THREAD || type == TYPE_LIST + TYPE_THREAD;
    bool widths = type == TYPE_TURNS || type == TYPE_LENGTH;
    for (const Node *node = list; node; node = node->next) {
        if (wound[node->kind]
            && ((threads && is_name_of(node->second, name, but))
                || (widths && is_name_of(node->first, name, but))))
            return true;
        if (has_body(node) && used_as(node->body, name, but, type))
            return true;
        if (node->kind == NODE_IF && node->second) {
            Node otherwise = *node->second;
            otherwise.next = NULL;
            if (used_as(&otherwise, name, but, type))
                return true;
        }
    }
    return false;
}

bool parameter_used_as(const Resolver *resolver, const Node *parameter, const Node *but, unsigned type)
{
    for (const Node *pattern = resolver->module->declarations; pattern; pattern = pattern->next)
        for (const Node *one = pattern->kind == NODE_PATTERN ? pattern->options : NULL; one; one = one->next)
            if (one == parameter)
                return used_as(pattern->body, parameter->text, but, type);
    return false;
}

/* --- units --- */

static bool in_inches(const Resolver *resolver)
{
    return unit_system(resolver->module->tree->first_length) == SYSTEM_IN;
}

/* `band 50 % of navy`: a part of the room that there is, in its unit; NULL where that is not known. Where inches
 * are written, a fraction is one of an inch. */
static const char *part_of_room(Resolver *resolver, const Node *node, ValueSpot spot, const char *digits)
{
    const Node *room = resolver->room;
    bool percent = node->detail == UNIT_PERCENT;
    if (percent && node->number == 1 && takes_fill(spot))
        return "fill";
    if (!room || !spot.part || strcmp(spot.part, SPOT_EXTENT) != 0 || spot.owner == NODE_INLAY
        || spot.owner == NODE_STRAND || !(percent || (strchr(digits, '/') && !in_inches(resolver)))
        || !(node->number > 0 && node->number <= 1))
        return NULL;
    Unit unit = (Unit)room->detail;
    return finding_text(resolver->findings, "%s %s",
                        show_number(resolver->findings->words, node->number * room->number / unit_factor(unit), 3),
                        unit_spelling(unit));
}

/* The digits of a number as they are written, without a unit. */
static const char *digits_of(Resolver *resolver, const Node *node)
{
    const char *text = written(resolver->findings->words, resolver->sources, node->span);
    size_t length = strspn(text, "0123456789./ \t");
    while (length && isspace((unsigned char)text[length - 1]))
        length--;
    return finding_text(resolver->findings, "%.*s", (int)length, text);
}

double plain_number(const Node *node) { return node->number / unit_factor((Unit)node->detail); }

/* `30 cm`: whether the number has this unit. */
static bool has_unit(const char *number, Unit unit)
{
    const char *behind = strrchr(number, ' ');
    return behind && strcmp(behind + 1, unit_spelling(unit)) == 0;
}

/* How likely the unit is; 0 where it cannot be. What is usual counts most, then what the file writes at such
 * spots, then the units that it begins with, then the one in which such a thing is mostly measured. */
static unsigned likeliness(const Resolver *resolver, const Seen *seen, const Usual *usual, Unit unit,
                           double number, bool fraction)
{
    const unsigned USUAL = 1u << 20, SEEN = 1u << 6, MOST_SEEN = 1000, ITS_OWN = 1u << 5, ITS_SYSTEM = 1u << 4,
                   ITS_USE = 1u << 3;
    bool turns = unit == UNIT_TURNS, whole = number == floor(number);
    double mm = number * unit_factor(unit);
    bool fits = turns ? whole && number >= 1 && number <= MOST_TURNS : mm >= usual->least && mm <= usual->most;
    bool inches = unit_system(unit) == SYSTEM_IN;
    unsigned count = number == 0 ? 0 : seen->units[unit] < MOST_SEEN ? seen->units[unit] : MOST_SEEN;
    unsigned likely = 1 + (fits ? USUAL : 0u) + count * SEEN;
    if (turns) /* one width elsewhere does not say that widths are measured */
        return likely + 2 * SEEN + ITS_OWN + ITS_SYSTEM;
    if (fraction && unit == UNIT_IN) /* nobody writes fractions of a millimetre */
        likely += USUAL / 2;
    likely += resolver->module->tree->first_length == unit ? ITS_OWN : 0;
    likely += inches == in_inches(resolver) ? ITS_SYSTEM : 0;
    likely += has_unit(inches ? usual->inches : usual->metric, unit) ? ITS_USE : 0;
    return likely + (unit == UNIT_MM || unit == UNIT_IN ? 4u : unit == UNIT_CM ? 2u : 0u);
}

static const char *with_unit(Resolver *resolver, double number, TypeSet set, ValueSpot spot, const char *digits,
                             bool *fits)
{
    static const Unit units[] = {UNIT_TURNS, UNIT_MM, UNIT_CM, UNIT_M, UNIT_IN, UNIT_FT, UNIT_YD};
    Seen seen = seen_at(resolver, spot);
    const Usual *usual = usual_at(spot);
    bool fraction = strchr(digits, '/');
    Unit best = UNIT_NONE;
    unsigned most = 0;
    for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
        if (!(set & SET(units[i] == UNIT_TURNS ? TYPE_TURNS : TYPE_LENGTH)))
            continue;
        unsigned likely = likeliness(resolver, &seen, usual, units[i], number, fraction);
        if (likely > most) {
            most = likely;
            best = units[i];
        }
    }
    if (fits)
        *fits = best == UNIT_TURNS
                || (number * unit_factor(best) >= usual->least && number * unit_factor(best) <= usual->most);
    if (best == UNIT_TURNS && number == 1)
        best = UNIT_TURN;
    return finding_text(resolver->findings, "%s %s", digits, unit_spelling(best));
}

static const char *with_per(Resolver *resolver, const Node *node, ValueSpot spot, const char *digits)
{
    Seen seen = seen_at(resolver, spot);
    double number = plain_number(node);
    bool cm = number > 0 && 10 / number >= PITCH_LEAST && 10 / number <= PITCH_MOST;
    bool in = number > 0 && 25.4 / number >= PITCH_LEAST && 25.4 / number <= PITCH_MOST;
    bool as_seen =
        seen.per[UNIT_CM] != seen.per[UNIT_IN] ? seen.per[UNIT_IN] > seen.per[UNIT_CM] : in_inches(resolver);
    bool inches = node->detail == UNIT_IN ? true : node->detail == UNIT_CM ? false : cm == in ? as_seen : in;
    return finding_text(resolver->findings, "%s per %s", digits, inches ? "in" : "cm");
}

/* `diameter: 15 %` is 0.15 of something, if 15 of anything would be too much. */
static const char *measured_value(Resolver *resolver, const Node *node, TypeSet set, ValueSpot spot,
                                  const char *digits)
{
    const char *part = part_of_room(resolver, node, spot, digits);
    bool fits = true;
    const char *value = part ? part : with_unit(resolver, plain_number(node), set, spot, digits, &fits);
    if (fits || node->detail != UNIT_PERCENT)
        return value;
    const char *as_ratio = show_number(resolver->findings->words, node->number, 4);
    const char *other = with_unit(resolver, node->number, set, spot, as_ratio, &fits);
    return fits ? other : value;
}

const char *likely_value(Resolver *resolver, const Node *node, TypeSet set, ValueSpot spot)
{
    if (findings_full(resolver->findings))
        return NULL;
    if (node->kind == NODE_RATE && node->first->kind == NODE_NUMBER) /* `67 per cm` for `67 turns` */
        node = node->first;
    if (node->kind != NODE_NUMBER)
        return NULL;
    const char *digits = digits_of(resolver, node);
    if (!*digits)
        return NULL;
    if (set & (SET(TYPE_TURNS) | SET(TYPE_LENGTH)))
        return measured_value(resolver, node, set, spot, digits);
    if (set & SET(TYPE_RATE))
        return with_per(resolver, node, spot, digits);
    return set & SET(TYPE_ANGLE) ? finding_text(resolver->findings, "%s deg", digits) : NULL;
}

const char *likely_length(Resolver *resolver, const Node *node, ValueSpot spot)
{
    return likely_value(resolver, node, SET(TYPE_LENGTH), spot);
}

const char *usual_value(Resolver *resolver, TypeSet set, ValueSpot spot)
{
    static const struct {
        unsigned type;
        const char *metric, *inches;
    } of_kinds[] = {
        {TYPE_TURNS, "8 turns", "8 turns"},
        {TYPE_LENGTH, "9 mm", "3/8 in"},
        {TYPE_RATE, "67 per cm", "170 per in"},
        {TYPE_ANGLE, "45 deg", "45 deg"},
        {TYPE_COUNT, "4", "4"},
        {TYPE_RATIO, "1/2", "1/2"},
        {TYPE_COLOUR, "#22346b", "#22346b"},
        {TYPE_TRUTH, "yes", "yes"},
        {TYPE_TEXT, "\"text\"", "\"text\""},
        {TYPE_LIST + TYPE_PAIR, "[in 1 out 2, in 2 out 1]", "[in 1 out 2, in 2 out 1]"},
        {TYPE_LIST + TYPE_COLOUR, "[#22346b, #dfe9ef]", "[#22346b, #dfe9ef]"},
        {TYPE_LIST + TYPE_COUNT, "[1, 1]", "[1, 1]"},
    };
    bool inches = in_inches(resolver);
    const Usual *usual = usual_at(spot);
    if (usual != &anywhere && set & (SET(TYPE_LENGTH) | SET(TYPE_TURNS) | SET(TYPE_ANGLE)))
        return inches ? usual->inches : usual->metric;
    for (size_t i = 0; i < sizeof of_kinds / sizeof *of_kinds; i++)
        if (set & SET(of_kinds[i].type))
            return inches ? of_kinds[i].inches : of_kinds[i].metric;
    return NULL;
}

/* --- words --- */

const char *word_as_number(const char *word)
{
    static const struct {
        const char *word, *number;
    } words[] = {
        {"once", "1"},     {"twice", "2"},     {"thrice", "3"},   {"dozen", "12"},   {"half", "1/2"},
        {"middle", "1/2"}, {"mid", "1/2"},     {"centre", "1/2"}, {"center", "1/2"}, {"halfway", "1/2"},
        {"third", "1/3"},  {"quarter", "1/4"}, {"½", "1/2"},      {"¼", "1/4"},      {"¾", "3/4"},
        {"⅓", "1/3"},      {"⅔", "2/3"},
    };
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcasecmp(words[i].word, word) == 0)
            return words[i].number;
    const char *counted = strlen(word) > 2 ? number_in_digits(word, strlen(word)) : NULL; /* no article */
    if (counted)
        return counted;
    bool times = tolower((unsigned char)*word) == 'x' && isdigit((unsigned char)word[1]); /* `x3` */
    if (times && !word[1 + strspn(word + 1, "0123456789")])
        return word + 1;
    return NULL;
}

const char *word_as_value(Resolver *resolver, const char *word, TypeSet set, ValueSpot spot)
{
    const char *digits = word_as_number(word);
    if (!digits || findings_full(resolver->findings))
        return NULL;
    bool fraction = strchr(digits, '/');
    if (set & SET(TYPE_RATIO) || (set & SET(TYPE_COUNT) && !fraction))
        return digits;
    char *end;
    double number = strtod(digits, &end);
    if (fraction)
        number /= strtod(end + 1, NULL);
    Node share = {.kind = NODE_NUMBER, .detail = UNIT_PERCENT, .number = number};
    const char *part = fraction ? part_of_room(resolver, &share, spot, digits) : NULL;
    if (part)
        return part;
    return set & (SET(TYPE_TURNS) | SET(TYPE_LENGTH)) ? with_unit(resolver, number, set, spot, digits, NULL)
                                                      : NULL;
}

bool takes_fill(ValueSpot spot)
{
    return spot.part && strcmp(spot.part, SPOT_EXTENT) == 0
           && (spot.owner == NODE_BAND || spot.owner == NODE_FADE_OF || spot.owner == NODE_STRAND);
}

bool fill_word(const char *word)
{
    static const char *const words[] = {"rest", "all",  "remaining", "remainder", "whole", "full",
                                        "auto", "left", "filled",    "fills",     "room",  "everything"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcasecmp(words[i], word) == 0)
            return true;
    return false;
}

/* "Light Gray" to "lightgray"; room for the longest name. */
static void plain_name(char *plain, size_t room, const char *name)
{
    size_t length = 0;
    for (; *name && length + 1 < room; name++)
        if (!strchr(" -_", *name))
            plain[length++] = (char)tolower((unsigned char)*name);
    plain[length] = 0;
}

const char *colour_of_name(const char *word)
{
    char plain[24];
    plain_name(plain, sizeof plain, word);
    uint32_t index = 0;
    while (colour_name(index) && strcmp(colour_name(index), plain) != 0)
        index++;
    return colour_name(index);
}

const char *colour_meant(Resolver *resolver, const char *word)
{
    enum { MOST_LISTED = 256 };
    const char *names[MOST_LISTED + 1] = {0};
    for (uint32_t i = 0; i < MOST_LISTED && colour_name(i); i++)
        names[i] = colour_name(i);
    const char *same = colour_of_name(word);
    return same ? same : nearest_word(resolver->findings->words, word, names);
}
