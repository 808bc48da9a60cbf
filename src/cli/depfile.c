/* The plain spellings are in GNU make's manual; those by way of its functions were found by trying GNU make 4.3,
 * and tests/cli/make_names.sh has make read every one of them back. */
#include "cli/depfile.h"

#include <stdbool.h>
#include <string.h>

/* How a character is spelled in a rule. `(or =)` is make's own function: what comes of it is no longer taken for
 * an assignment, a recipe's beginning, or a blank to be thrown away. */
typedef struct Spelling {
    char character;
    bool quoted; /* after a backslash, with those right before it doubled */
    const char *spelled;
} Spelling;

static const Spelling spellings[] = {
    {' ', true, " "},        {'\t', true, "$(subst x,\t,x)"},
    {'#', true, "#"},        {':', true, ":"},
    {'|', true, "|"},        {';', true, "$(or ;)"},
    {'=', false, "$(or =)"}, {'$', false, "$$"},
    {'*', false, "[*]"},     {'?', false, "[?]"},
    {'[', false, "[[]"},
};

/* The first of a name, after the "./" that make takes off: there `~` stands for a home. */
static const char *beginning(const char *name)
{
    while (name[0] == '.' && name[1] == '/')
        name += 1 + strspn(name + 1, "/");
    return name;
}

/* make looks for files that fit such a name, as a shell does, and takes a backslash off on the way. */
static bool is_wild(const char *name) { return strpbrk(name, "*?[") || *beginning(name) == '~'; }

static void put_backslashes(Buffer *out, size_t count)
{
    while (count--)
        buffer_text(out, "\\");
}

static const Spelling *spelling_of(const char *name, const char *at, bool on_the_left)
{
    static const Spelling percent = {'%', true, "%"}, home = {'~', false, "[~]"};
    if (*at == '%' && on_the_left) /* there it makes a pattern */
        return &percent;
    if (*at == '~' && at == beginning(name))
        return &home;
    for (unsigned i = 0; i < sizeof spellings / sizeof *spellings; i++)
        if (spellings[i].character == *at && !(*at == '|' && on_the_left))
            return &spellings[i];
    return NULL;
}

static void put_name(Buffer *out, const char *name, bool on_the_left)
{
    if (strcmp(name, "define") == 0 || strcmp(name, "undefine") == 0) /* else an order, right after the colon */
        buffer_text(out, "$()");
    size_t each = is_wild(name) ? 2 : 1, backslashes = 0;
    for (const char *at = name; *at; at++) {
        const Spelling *spelling = spelling_of(name, at, on_the_left);
        if (*at == '\\')
            put_backslashes(out, each);
        else if (spelling && spelling->quoted)
            put_backslashes(out, backslashes + 1);
        if (spelling)
            buffer_text(out, spelling->spelled);
        else if (*at != '\\')
            buffer_put(out, at, 1);
        backslashes = *at == '\\' ? backslashes + each : 0;
    }
    /* Before the colon or the blank that follows; and an empty variable, so that nothing of the end is lost. */
    put_backslashes(out, backslashes);
    buffer_text(out, backslashes && !on_the_left ? " $()" : strchr(" &", name[strlen(name) - 1]) ? "$()" : "");
}

const char *depfile_fault(const char *name)
{
    const char *first = beginning(name), *bracket = strchr(name, '(');
    size_t length = strlen(name);
    if (!length)
        return "nothing in it";
    if (strpbrk(name, "\r\n"))
        return "a line break in it";
    if (bracket && bracket > name && name[length - 1] == ')' && bracket + 2 < name + length)
        return "brackets at its end, by which make means a part of an archive";
    if (strchr(name, '%') && is_wild(name))
        return "a % beside *, ?, [ or ~";
    if (*first == '.' && first[1] && !first[1 + strspn(first + 1, "ABCDEFGHIJKLMNOPQRSTUVWXYZ_")])
        return "a dot and capital letters, by which make means an order to itself";
    return NULL;
}

void depfile_write(Buffer *out, const char *target, const char *const *files, uint32_t count, uint32_t required)
{
    put_name(out, target, true);
    buffer_text(out, ":");
    for (uint32_t i = 0; i < count; i++) {
        buffer_text(out, i ? " \\\n  " : " ");
        put_name(out, files[i], false);
    }
    buffer_text(out, "\n");
    for (uint32_t i = required; i < count; i++) {
        buffer_text(out, "\n");
        put_name(out, files[i], true);
        buffer_text(out, ":\n");
    }
}
