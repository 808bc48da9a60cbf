#include "base/text.h"
#include "cli/first_pattern.h"
#include "cli/output.h"
#include "cli/paths.h"
#include "cli/verbs.h"

#include <string.h>
#include <unistd.h>

/* "-" and names that end so already stay as they are. */
static const char *pattern_path(Arena *arena, const char *name)
{
    bool whole = strcmp(name, "-") == 0 || is_pattern_file(name);
    return whole ? name : text_format(arena, "%s" PATTERN_ENDING, name);
}

ExitCode run_new(Arena *arena, const Arguments *arguments)
{
    const char *path = pattern_path(arena, arguments->operands.items[0]);
    Destination end = destination_of(arena, path);
    if (end.kind == LEADS_TO_FILE && end.exists) {
        say("%s is there already, and stays as it is; give the new file another name", path);
        return EXIT_WRONG_USE;
    }
    Buffer text;
    buffer_start(&text, arena);
    buffer_text(&text, first_pattern);
    ExitCode code = output_write(arena, &end, &text);
    if (code == EXIT_CLEAN && end.kind == LEADS_TO_FILE && isatty(STDERR_FILENO))
        say("%s is written; `turnlay sheet %s` shows how to wind it", path, path);
    return code;
}
