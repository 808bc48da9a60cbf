#include "cli/arguments.h"

#include "base/buffer.h"
#include "base/text.h"
#include "base/units.h"
#include "cli/cli.h"
#include "cli/destination.h"
#include "pdf_page.h"

#include <errno.h>
#include <getopt.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* A leading '-' hands over operands in order, so that options may come anywhere whatever the
 * environment says; ':' tells a missing value from an unknown option. */
static const char short_options[] = "-:o:I:M:vqh";

static const char *verb_name(const Arguments *arguments)
{
    return arguments->verb ? verb_table[arguments->verb].name : "turnlay";
}

/* chosen: which of the choices the word is; count for none. */
static bool choose(const char *option, const char *word, const char *const *choices, unsigned count,
                   unsigned *chosen)
{
    char all[80] = "";
    for (*chosen = 0; *chosen < count; ++*chosen) {
        if (strcmp(word, choices[*chosen]) == 0)
            return true;
        strcat(strcat(all, *chosen == 0 ? "" : *chosen + 1 < count ? ", " : " or "), choices[*chosen]);
    }
    say("%s is %s, not %s", option, all, word);
    return false;
}

static bool set_findings(Arguments *arguments, const char *word)
{
    static const char *const of_findings[] = {"text", "json"};
    unsigned chosen;
    bool good = choose("--findings", word, of_findings, 2, &chosen);
    arguments->findings_word = word;
    arguments->json_findings = chosen == 1;
    return good;
}

static bool set_paper(Arguments *arguments, const char *word)
{
    static const char *const papers[] = {"a4", "letter"};
    unsigned chosen;
    bool good = choose("--paper", word, papers, 2, &chosen);
    arguments->letter = chosen == 1;
    return good;
}

static bool set_depth(Arguments *arguments, const char *word)
{
    static const char *const depths[] = {"steps", "actions", "cards"};
    _Static_assert(sizeof depths / sizeof *depths == TURNLAY_DEPTH_COUNT, "every depth of the library");
    unsigned chosen;
    bool good = choose("--depth", word, depths, TURNLAY_DEPTH_COUNT, &chosen);
    arguments->depth = (TurnlayDepth)chosen;
    return good;
}

static bool set_view(Arguments *arguments, const char *word)
{
    static const char *const views[] = {"side", "unrolled", "rod", "presentation", "eye", "template"};
    _Static_assert(sizeof views / sizeof *views == TURNLAY_VIEW_COUNT + 1,
                   "every view of the library, and one more");
    unsigned chosen;
    bool good = choose("--view", word, views, TURNLAY_VIEW_COUNT + 1, &chosen);
    arguments->template = chosen == TURNLAY_VIEW_COUNT;
    arguments->view = arguments->template ? TURNLAY_ROD : (TurnlayView)chosen;
    return good;
}

static bool set_eyes(Arguments *arguments, const char *word)
{
    static const char *const eyes[] = {"all", "protanopia", "deuteranopia", "tritanopia"};
    _Static_assert(sizeof eyes / sizeof *eyes == TURNLAY_EYES_COUNT, "all eyes of the library");
    unsigned chosen;
    bool good = choose("--eyes", word, eyes, TURNLAY_EYES_COUNT, &chosen);
    arguments->eyes = (TurnlayEyes)chosen;
    return good;
}

static bool set_scale(Arguments *arguments, const char *word)
{
    char *end;
    arguments->scale = strtod(word, &end);
    if (end != word && !*end && arguments->scale >= TURNLAY_LEAST_SCALE
        && arguments->scale <= TURNLAY_GREATEST_SCALE)
        return true;
    say("--scale is a number from 0.01 to 100, not %s", word);
    return false;
}

/* "90" or "90 deg". */
static bool set_turn(Arguments *arguments, const char *word)
{
    char *end;
    double turned = strtod(word, &end);
    bool begun = end != word;
    while (*end == ' ')
        end++;
    if (begun && (!*end || strcmp(end, unit_spelling(UNIT_DEG)) == 0) && fabs(turned) <= 3600) {
        arguments->turned = fmod(fmod(turned, 360) + 360, 360);
        return true;
    }
    say("--turn is how far round the side that faces you is, in degrees, as in 90 deg, not %s", word);
    return false;
}

static bool set_number(uint32_t *target, const char *option, const char *word)
{
    char *end;
    long number = strtol(word, &end, 10);
    *target = number > 0 && number < INT32_MAX ? (uint32_t)number : 0;
    if (end != word && !*end && *target)
        return true;
    say("%s is a whole number from 1, not %s", option, word);
    return false;
}

static bool set_width(Arguments *arguments, const char *word)
{
    char *end;
    long pixels = strtol(word, &end, 10);
    bool whole = end != word && !*end;
    arguments->width = whole && pixels >= PNG_LEAST_WIDTH && pixels <= PNG_GREATEST_WIDTH ? (uint32_t)pixels : 0;
    if (!arguments->width)
        say("--width is a whole number of pixels, from %d to %d, not %s", PNG_LEAST_WIDTH, PNG_GREATEST_WIDTH,
            word);
    return arguments->width;
}

static bool set_rod(Arguments *arguments, const char *word)
{
    arguments->rod = word;
    if (!*word)
        say("--rod is the title of a rod, or its number, counted from 1");
    return *word;
}

static bool set_section(Arguments *arguments, const char *word)
{
    arguments->section = word;
    if (!*word)
        say("--section is the name of a section: that of its blank");
    return *word;
}

/* Blanks round the names do not count. */
static const char *trimmed(Arena *arena, const char *from, const char *end)
{
    while (from < end && *from == ' ')
        from++;
    while (end > from && end[-1] == ' ')
        end--;
    return text_format(arena, "%.*s", (int)(end - from), from);
}

/* False unless there are two names with = between them. */
static bool read_swap(Arena *arena, const char *from, const char *end, SwapGiven *swap)
{
    const char *sign = memchr(from, '=', (size_t)(end - from));
    *swap = (SwapGiven){.name = ""};
    if (sign)
        *swap = (SwapGiven){trimmed(arena, from, sign), trimmed(arena, sign + 1, end)};
    return sign && *swap->name && *swap->with;
}

/* Several swaps with signs between, each written with its option; NULL if that is not what the word is. */
static const char *several_swaps(Arena *arena, const char *word)
{
    Buffer out;
    buffer_start(&out, arena);
    unsigned count = 0;
    for (const char *from = word, *end;; from = end + 1, count++) {
        SwapGiven swap;
        end = from + strcspn(from, ",;");
        if (!read_swap(arena, from, end, &swap))
            return NULL;
        buffer_text(&out, count ? " --swap " : "--swap ");
        buffer_text(&out, swap.name);
        buffer_text(&out, "=");
        buffer_text(&out, swap.with);
        if (!*end)
            break;
    }
    return count ? buffer_string(&out) : NULL;
}

static bool add_swap(Arguments *arguments, Arena *arena, const char *word)
{
    const char *several = several_swaps(arena, word);
    if (several)
        say("each swap has a --swap of its own: %s", several);
    else if (read_swap(arena, word, word + strlen(word), LIST_ADD(arena, &arguments->swaps)))
        return true;
    else
        say("--swap is two names with = between them, as in navy=plum, not %s", word);
    return false;
}

/* Two names with a comma between them. */
static bool set_between(Arguments *arguments, Arena *arena, const char *word)
{
    const char *comma = strchr(word, ',');
    if (comma && !strchr(comma + 1, ',')) {
        arguments->between[0] = trimmed(arena, word, comma);
        arguments->between[1] = trimmed(arena, comma + 1, word + strlen(word));
        if (*arguments->between[0] && *arguments->between[1])
            return true;
    }
    say("--between is two threads with a comma between them, as in navy,foam, not %s", word);
    return false;
}

static bool names_a_file(const char *option, const char *path)
{
    if (path && *path)
        return true;
    say("%s needs the name of a file", option);
    return false;
}

/* -MD, -MF FILE and -MFFILE, as compilers spell them: an option M whose value begins with D or F. */
static bool set_depfile(Arguments *arguments, const char *value, int count, char **words)
{
    bool named = value[0] == 'F';
    if (!named && strcmp(value, "D") != 0) {
        say("there is no option -M%s; -MD and -MF FILE write a file for make", value);
        return false;
    }
    arguments->write_depfile = true;
    if (!named)
        return true;
    arguments->depfile = value[1] ? value + 1 : optind < count ? words[optind++] : NULL;
    return names_a_file("-MF", arguments->depfile);
}

static bool set_output(Arguments *arguments, const char *path)
{
    arguments->output = path;
    return names_a_file("-o", path);
}

/* Verbs by the names that they had before, read for now. */
static const struct {
    const char *before;
    VerbKind verb;
} renamed[] = {{"fold", VERB_GATHER}};

static bool was_renamed(Arguments *arguments, const char *word)
{
    for (size_t i = 0; i < sizeof renamed / sizeof *renamed; i++)
        if (strcmp(word, renamed[i].before) == 0) {
            arguments->verb = renamed[i].verb;
            say("%s is now called %s", word, verb_name(arguments));
        }
    return arguments->verb != VERB_NONE;
}

static bool add_operand(Arguments *arguments, Arena *arena, const char *word)
{
    if (arguments->verb) {
        *LIST_ADD(arena, &arguments->operands) = word;
        return true;
    }
    if (strcmp(word, "help") == 0) /* `turnlay help plan`: as many people ask */
        return arguments->help = true;
    if (was_renamed(arguments, word))
        return true;
    unsigned nearest = VERB_NONE, distance = 3;
    for (unsigned kind = 1; kind < VERB_COUNT; kind++) {
        if (strcmp(verb_table[kind].name, word) == 0) {
            arguments->verb = (VerbKind)kind;
            return true;
        }
        unsigned other = text_distance(word, verb_table[kind].name, 2);
        if (other < distance) {
            distance = other;
            nearest = kind;
        }
    }
    if (nearest)
        say("there is no verb %s; did you mean %s?", word, verb_table[nearest].name);
    else
        say("there is no verb %s; a verb comes first, as in `turnlay plan FILE`", word);
    return false;
}

static bool is_taken(VerbKind verb, int id)
{
    for (unsigned i = 0; i < OPTION_COUNT; i++)
        if (option_table[i].id == id && option_table[i].verbs & VERB_BIT(verb))
            return true;
    return !verb;
}

/* What is offered is an option that the verb takes. */
static bool unknown_option(VerbKind verb, const char *word)
{
    const char *nearest = NULL;
    unsigned distance = 3;
    for (unsigned i = 0; i < OPTION_COUNT && strncmp(word, "--", 2) == 0; i++) {
        unsigned other = option_table[i].name && is_taken(verb, option_table[i].id)
                             ? text_distance(word + 2, option_table[i].name, 2)
                             : distance;
        if (other < distance) {
            distance = other;
            nearest = option_table[i].name;
        }
    }
    if (nearest)
        say("there is no option %s; did you mean --%s?", word, nearest);
    else if (strcmp(word, "--json") == 0)
        say("there is no option --json; findings are asked for by --findings json, a page by --format json");
    else
        say("there is no option %s", word);
    return false;
}

/* What getopt_long could not read: an unknown option, or a value where none belongs or none is given. */
static bool misread(const Arguments *arguments, int id, const char *word)
{
    char letter[] = {'-', (char)optopt, 0};
    bool is_long = strncmp(word, "--", 2) == 0;
    if (id == ':' && !is_taken(arguments->verb, optopt))
        say("%s takes no %s", verb_name(arguments), is_long ? word : letter);
    else if (id == ':')
        say("%s needs a value", is_long ? word : letter);
    else if (optopt && is_long)
        say("%.*s takes no value", (int)strcspn(word, "="), word);
    else
        return unknown_option(arguments->verb, optopt ? letter : word);
    return false;
}

static bool set_switch(bool *flag)
{
    *flag = true;
    return true;
}

static bool apply(Arguments *arguments, Arena *arena, int id, const char *word, int count, char **words)
{
    switch (id) {
    case 1: return add_operand(arguments, arena, optarg);
    case 'o': return set_output(arguments, optarg);
    case 'F': arguments->format_word = optarg; return true;
    case 'V': return set_view(arguments, optarg);
    case 'E': return set_eyes(arguments, optarg);
    case 'S': return set_scale(arguments, optarg);
    case 'T': return set_turn(arguments, optarg);
    case 'w': return set_width(arguments, optarg);
    case 'R': return set_rod(arguments, optarg);
    case 's': return set_section(arguments, optarg);
    case 'D': return set_depth(arguments, optarg);
    case 'f': return set_number(&arguments->from_step, "--from", optarg);
    case 'W': return measured_read(arguments, arena, optarg);
    case 'H': return mishap_read(arguments, arena, optarg);
    case 'r': arguments->record = optarg; return true;
    case 'l': arguments->learned = optarg; return true;
    case 'x': return add_swap(arguments, arena, optarg);
    case 'B': return set_between(arguments, arena, optarg);
    case 'P': return set_paper(arguments, optarg);
    case 'I': *LIST_ADD(arena, &arguments->folders) = optarg; return true;
    case 'M': return set_depfile(arguments, optarg, count, words);
    case 'J': return set_findings(arguments, optarg);
    case 'v': return set_switch(&arguments->verbose);
    case 'q': return set_switch(&arguments->quiet);
    case 'k': return set_switch(&arguments->kept);
    case 'X': return set_switch(&arguments->strict);
    case 'h': return set_switch(&arguments->help);
    case 'n': return set_switch(&arguments->version);
    default: return misread(arguments, id, word);
    }
}

static void long_options(struct option *options)
{
    for (unsigned i = 0; i < OPTION_COUNT; i++)
        if (option_table[i].name)
            *options++ = (struct option){.name = option_table[i].name,
                                         .has_arg = option_table[i].value ? required_argument : no_argument,
                                         .val = option_table[i].id};
    *options = (struct option){0};
}

/* Where another option does it. */
#define INSTEAD(X) X(CHECK, 'F', "; its findings are what it writes: --findings json")

static const char *instead_of(VerbKind verb, int id)
{
    static const struct {
        VerbKind verb;
        int id;
        const char *words;
    } rows[] = {
#define X(name, ...) {VERB_##name, __VA_ARGS__},
        INSTEAD(X)
#undef X
    };
    for (unsigned i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].verb == verb && rows[i].id == id)
            return rows[i].words;
    return "";
}

static uint64_t bit_of(int id) { return (uint64_t)1 << (id - 'A'); }
static bool is_given(uint64_t given, int id) { return given & bit_of(id); }

/* Of two values one would be passed over; switches may be repeated, and there may be several folders, swaps,
 * measured widths and mishaps. */
static bool is_repeated(uint64_t given, int id)
{
    for (unsigned i = 0; i < OPTION_COUNT; i++)
        if (option_table[i].id == id && option_table[i].value && id != 'I' && id != 'M' && id != 'x' && id != 'W'
            && id != 'H' && is_given(given, id)) {
            say("--%s is given twice; leave one of them out", option_table[i].name);
            return true;
        }
    return false;
}

/* Every option given must be one that the verb takes. */
static bool options_fit(const Arguments *arguments, uint64_t given)
{
    for (unsigned i = 0; i < OPTION_COUNT; i++) {
        if (is_given(given, option_table[i].id) && !is_taken(arguments->verb, option_table[i].id)) {
            say("%s takes no %s%s", verb_name(arguments), option_table[i].shown,
                instead_of(arguments->verb, option_table[i].id));
            return false;
        }
    }
    return true;
}

/* getopt_long takes "--eye" for --eyes; with the next option that begins so a script would stop. */
static bool is_cut_short(int id, const char *word)
{
    const char *whole = NULL;
    for (unsigned i = 0; i < OPTION_COUNT && !whole && strncmp(word, "--", 2) == 0; i++)
        if (option_table[i].id == id)
            whole = option_table[i].name;
    int length = (int)strcspn(word, "=");
    if (!whole || strlen(whole) + 2 == (size_t)length)
        return false;
    say("there is no option %.*s; did you mean --%s?", length, word, whole);
    return true;
}

/* What getopt_long read of a word: an option, a word without one, or that it could not be read. */
static bool take(Arguments *arguments, Arena *arena, uint64_t *given, int id, int at, int count, char **words)
{
    bool is_option = id != 1 && id != ':' && id != '?';
    if (is_option && is_repeated(*given, id))
        return false;
    if (is_option)
        *given |= bit_of(id);
    return (!is_option || (options_fit(arguments, *given) && !is_cut_short(id, words[at])))
           && apply(arguments, arena, id, words[at], count, words);
}

/* Every option given must do something. */
static bool options_work(const Arguments *arguments, uint64_t given)
{
    const char *told = NULL;
    if (is_given(given, 'f') && arguments->format == FORMAT_JSON)
        told = "--from goes with a sheet for people: a json sheet is always whole";
    else if (is_given(given, 'D') && arguments->format != FORMAT_TEXT)
        told =
            "--depth goes with a text sheet: the html sheet shows the actions of a step where they are asked for";
    else if (is_given(given, 'f') && arguments->depth == TURNLAY_CARDS)
        told = "--from goes with steps and actions: cards are always whole";
    else if (is_given(given, 'P') && arguments->format != FORMAT_PDF)
        told = "--paper goes with a pdf sheet: write --format pdf, or after -o a name that ends in .pdf";
    else if (is_given(given, 'T') && (arguments->template || arguments->view == TURNLAY_UNROLLED))
        told = "--turn goes with a view of one side: this one shows all round";
    else if (is_given(given, 'w') && arguments->format != FORMAT_PNG)
        told = "--width goes with a png: write --format png, or after -o a name that ends in .png";
    else if (arguments->template && arguments->format == FORMAT_PNG)
        told =
            "a template is printed at true size, which a png does not know; draw it as svg, or print the pdf sheet";
    else if (arguments->section && arguments->template)
        told = "a template is of one wrap; leave out --section";
    else if (arguments->scale != 1 && arguments->template)
        told = "a template is always at true size; leave out --scale";
    else if (arguments->quiet && arguments->verbose)
        told = "-q shows less and -v shows more; leave one of them out";
    if (told)
        say("%s", told);
    return !told;
}

/* Whether the result has a file, after which the one for make can be named. */
static bool has_file(const Arguments *arguments, Arena *arena)
{
    return arguments->output && destination_of(arena, arguments->output).kind == LEADS_TO_FILE;
}

static bool standard_input_fits(const Arguments *arguments, Arena *arena)
{
    unsigned times = 0;
    for (uint32_t i = 0; i < arguments->operands.count; i++)
        times += strcmp(arguments->operands.items[i], "-") == 0;
    if (times > 1)
        say("standard input (-) can be read only once");
    else if (times && arguments->write_depfile && !arguments->depfile && !has_file(arguments, arena))
        say("-MD with standard input (-) needs -o or -MF with the name of a file");
    else
        return true;
    return false;
}

static bool operands_fit(const Arguments *arguments, Arena *arena)
{
    const Verb *verb = &verb_table[arguments->verb];
    uint32_t count = arguments->operands.count;
    if (arguments->verb == VERB_NEW && (!count || !*arguments->operands.items[0]))
        say("new needs a name for the file; - prints it");
    else if (count < verb->fewest)
        say("%s needs a file; - reads standard input", verb->name);
    else if (count > verb->most)
        say("%s takes one %s, not %u", verb->name, arguments->verb == VERB_EXPLAIN ? "code" : "file", count);
    else if (count > 1 && (arguments->output || arguments->depfile))
        say("%s goes with one file, not %u", arguments->output ? "-o" : "-MF", count);
    else
        return standard_input_fits(arguments, arena);
    return false;
}

/* A folder of TURNLAY_PATH may be missing, as on a machine that has not got all of them. */
static bool folders_are_there(const Arguments *arguments)
{
    for (uint32_t i = 0; i < arguments->folders.count; i++) {
        const char *folder = arguments->folders.items[i];
        struct stat state;
        if (!*folder)
            say("-I needs the name of a folder");
        else if (stat(folder, &state) != 0)
            say("-I %s: %s", folder, strerror(errno));
        else if (!S_ISDIR(state.st_mode))
            say("-I %s is a file; -I names the folder that it lies in", folder);
        else
            continue;
        return false;
    }
    return true;
}

bool arguments_read(Arguments *arguments, Arena *arena, int count, char **words)
{
    *arguments = (Arguments){.view = TURNLAY_ROD, .scale = 1, .turned = NAN};
    struct option options[OPTION_COUNT + 1];
    long_options(options);
    uint64_t given = 0;
    opterr = 0;
    for (;;) {
        int at = optind; /* the word read now, also in the middle of short options written together */
        int id = getopt_long(count, words, short_options, options, NULL);
        if (id == -1)
            break;
        if (!take(arguments, arena, &given, id, at, count, words))
            return false;
    }
    while (optind < count)
        if (!add_operand(arguments, arena, words[optind++]))
            return false;
    if (arguments->help || arguments->version)
        return true;
    if (!arguments->verb) {
        say("a verb comes first, as in `turnlay plan FILE`");
        return false;
    }
    if (!is_given(given, 'S') && arguments->view == TURNLAY_EYE)
        arguments->scale = TURNLAY_EYE_SCALE;
    if (arguments->verb == VERB_NEW && arguments->operands.count)
        arguments->output = arguments->operands.items[0];
    return options_fit(arguments, given) && folders_are_there(arguments) && format_settle(arguments)
           && options_work(arguments, given) && operands_fit(arguments, arena);
}
