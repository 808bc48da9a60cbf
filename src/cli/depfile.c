#include "cli/depfile.h"

#include <stdbool.h>
#include <string.h>

/* A name as make reads it back: `\` before blank, tab, # and colon, doubling the backslashes right before a
 * blank or #; $ is doubled; % is a pattern on the left side of a rule only, and wants its `\` only there. */
static void put_name(Buffer *out, const char *name, bool on_the_left)
{
    size_t backslashes = 0;
    for (; *name; name++) {
        if (*name == ' ' || *name == '\t' || *name == '#')
            for (size_t i = 0; i <= backslashes; i++)
                buffer_text(out, "\\");
        else if (*name == ':' || (*name == '%' && on_the_left))
            buffer_text(out, "\\");
        else if (*name == '$')
            buffer_text(out, "$");
        buffer_put(out, name, 1);
        backslashes = *name == '\\' ? backslashes + 1 : 0;
    }
}

const char *depfile_fault(const char *name) { return strpbrk(name, "\r\n") ? "a line break in it" : NULL; }

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
