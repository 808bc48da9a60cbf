#include "cli/cli.h"

#include "base/visible.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

ExitCode worse(ExitCode a, ExitCode b) { return a > b ? a : b; }

void say(const char *format, ...)
{
    char line[8192] = "turnlay: ";
    size_t start = strlen(line);
    va_list arguments;
    va_start(arguments, format);
    int written = vsnprintf(line + start, sizeof line - start - 1, format, arguments);
    va_end(arguments);
    if (written < 0)
        return;
    /* A tab becomes four blanks, and nothing becomes longer than that. */
    char shown[4 * sizeof line + 1];
    size_t length = 0;
    for (const char *at = line, *end = line + strlen(line); at < end;) {
        ShownCharacter character;
        at += show_character(at, (size_t)(end - at), &character);
        size_t taken = strlen(character.text);
        memcpy(shown + length, character.text, taken);
        length += taken;
    }
    shown[length++] = '\n';
    /* Where standard error cannot be written there is nobody left to tell. */
    ssize_t ignored = write(STDERR_FILENO, shown, length);
    (void)ignored;
}
