#include "cli/cli.h"

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
    size_t length = strlen(line);
    for (size_t i = 0; i < length; i++)
        if ((unsigned char)line[i] < 0x20 || line[i] == 0x7f)
            line[i] = '?';
    line[length++] = '\n';
    /* Where standard error cannot be written there is nobody left to tell. */
    ssize_t ignored = write(STDERR_FILENO, line, length);
    (void)ignored;
}
