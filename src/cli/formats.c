#include "cli/arguments.h"

#include "cli/cli.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

static const char *const format_words[FORMAT_COUNT] = {
#define X(name, word) [FORMAT_##name] = word,
    FORMAT_TABLE(X)
#undef X
};

/* FORMAT_COUNT: nothing here writes it. An ending that is not in the table says nothing. */
#define ENDINGS(X)                                                                                                \
    X("txt", FORMAT_TEXT)                                                                                         \
    X("text", FORMAT_TEXT)                                                                                        \
    X("json", FORMAT_JSON)                                                                                        \
    X("csv", FORMAT_CSV)                                                                                          \
    X("html", FORMAT_HTML)                                                                                        \
    X("htm", FORMAT_HTML)                                                                                         \
    X("pdf", FORMAT_PDF)                                                                                          \
    X("svg", FORMAT_SVG)                                                                                          \
    X("png", FORMAT_PNG)                                                                                          \
    X("lay", FORMAT_LAY)                                                                                          \
    X("jpg", FORMAT_COUNT)                                                                                        \
    X("jpeg", FORMAT_COUNT)                                                                                       \
    X("gif", FORMAT_COUNT)                                                                                        \
    X("webp", FORMAT_COUNT)                                                                                       \
    X("bmp", FORMAT_COUNT)                                                                                        \
    X("tif", FORMAT_COUNT)                                                                                        \
    X("tiff", FORMAT_COUNT)                                                                                       \
    X("ps", FORMAT_COUNT)                                                                                         \
    X("eps", FORMAT_COUNT)                                                                                        \
    X("dxf", FORMAT_COUNT)                                                                                        \
    X("gz", FORMAT_COUNT)                                                                                         \
    X("bz2", FORMAT_COUNT)                                                                                        \
    X("xz", FORMAT_COUNT)                                                                                         \
    X("zst", FORMAT_COUNT)                                                                                        \
    X("zip", FORMAT_COUNT)                                                                                        \
    X("md", FORMAT_COUNT)                                                                                         \
    X("rtf", FORMAT_COUNT)                                                                                        \
    X("doc", FORMAT_COUNT)                                                                                        \
    X("docx", FORMAT_COUNT)                                                                                       \
    X("odt", FORMAT_COUNT)                                                                                        \
    X("xls", FORMAT_COUNT)                                                                                        \
    X("xlsx", FORMAT_COUNT)                                                                                       \
    X("ods", FORMAT_COUNT)                                                                                        \
    X("xml", FORMAT_COUNT)                                                                                        \
    X("yaml", FORMAT_COUNT)

static const struct {
    const char *ending;
    Format format;
} endings[] = {
#define X(ending, format) {ending, format},
    ENDINGS(X)
#undef X
};
enum { ENDING_COUNT = sizeof endings / sizeof *endings };

FormatChoices format_choices(VerbKind verb)
{
    FormatChoices choices = {""};
    unsigned left = (unsigned)__builtin_popcount(verb_table[verb].formats);
    const char *joint = "";
    for (Format format = 0; format < FORMAT_COUNT; format++) {
        if (!(verb_table[verb].formats & FORMAT_BIT(format)))
            continue;
        strcat(strcat(choices.words, joint), format_words[format]);
        joint = --left > 1 ? ", " : " or ";
    }
    return choices;
}

static bool writes(const Verb *verb, Format format)
{
    return format < FORMAT_COUNT && verb->formats & FORMAT_BIT(format);
}

/* FORMAT_COUNT if the word is none that the verb writes. */
static Format format_of_word(const Verb *verb, const char *word)
{
    Format format = 0;
    while (format < FORMAT_COUNT && !(writes(verb, format) && strcmp(format_words[format], word) == 0))
        format++;
    return format;
}

/* What stands behind the last dot of a file's name, "" if there is none: a name may begin with one. */
static const char *ending_of(const char *path)
{
    const char *stroke = strrchr(path, '/'), *name = stroke ? stroke + 1 : path, *dot = strrchr(name, '.');
    return dot && dot > name ? dot + 1 : "";
}

static unsigned row_of(const char *ending)
{
    unsigned row = 0;
    while (row < ENDING_COUNT && strcasecmp(endings[row].ending, ending) != 0)
        row++;
    return row;
}

static bool ending_fits(Arguments *arguments, const Verb *verb, const char *option, const char *said)
{
    const char *ending = arguments->output ? ending_of(arguments->output) : "";
    unsigned row = row_of(ending);
    if (row == ENDING_COUNT)
        return true;
    if (!writes(verb, endings[row].format)) {
        say("%s writes %s; %s ends in .%s", verb->name, format_choices(arguments->verb).words, arguments->output,
            ending);
        return false;
    }
    if (said && endings[row].format != arguments->format) {
        say("%s %s and the .%s of -o %s do not go together; leave one out, or change it", option, said, ending,
            arguments->output);
        return false;
    }
    arguments->format = endings[row].format;
    return true;
}

static Format usual_format(const Verb *verb)
{
    Format format = 0;
    while (format + 1 < FORMAT_COUNT && !writes(verb, format))
        format++;
    return format;
}

bool format_settle(Arguments *arguments)
{
    const Verb *verb = &verb_table[arguments->verb];
    bool of_findings = arguments->verb == VERB_CHECK;
    const char *option = of_findings ? "--findings" : "--format";
    const char *said = of_findings ? arguments->findings_word : arguments->format_word;
    arguments->format = said ? format_of_word(verb, said) : usual_format(verb);
    if (arguments->format == FORMAT_COUNT) {
        say("%s's %s is %s, not %s", verb->name, option, format_choices(arguments->verb).words, said);
        return false;
    }
    return ending_fits(arguments, verb, option, said);
}
