#include "base/visible.h"

#include "base/buffer.h"

#include <math.h>
#include <string.h>
#include <utf8proc.h>

static const char REPLACEMENT[] = "\xef\xbf\xbd"; /* U+FFFD */
enum { CONTROL_PICTURES = 0x2400, PICTURE_OF_DELETE = 0x2421, REPLACEMENT_CHARACTER = 0xfffd };
enum { NON_JOINER = 0x200c, JOINER = 0x200d }; /* these two belong to the spelling of words */

/* The sign to show in place of a character, or the character itself. */
static utf8proc_int32_t stand_in(utf8proc_int32_t character)
{
    if (character >= 0 && character < ' ')
        return CONTROL_PICTURES + character;
    if (character < 0x7f || character == NON_JOINER || character == JOINER)
        return character;
    if (character == 0x7f)
        return PICTURE_OF_DELETE;
    switch (utf8proc_category(character)) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP: return REPLACEMENT_CHARACTER;
    default: return character;
    }
}

uint32_t show_character(const char *bytes, size_t left, ShownCharacter *shown)
{
    utf8proc_int32_t character;
    utf8proc_ssize_t taken = utf8proc_iterate((const utf8proc_uint8_t *)bytes, (utf8proc_ssize_t)left, &character);
    if (taken <= 0) {
        taken = 1;
        character = REPLACEMENT_CHARACTER;
    }
    if (character == '\t') {
        *shown = (ShownCharacter){"    ", 4};
        return 1;
    }
    character = stand_in(character);
    utf8proc_ssize_t length = utf8proc_encode_char(character, (utf8proc_uint8_t *)shown->text);
    shown->text[length] = 0;
    shown->columns = utf8proc_charwidth(character);
    return (uint32_t)taken;
}

/* Printable ASCII throughout, as nearly every text is. */
static bool is_plain(const char *text)
{
    while (*text >= ' ' && *text <= '~')
        text++;
    return !*text;
}

static const char *finish(Buffer *buffer)
{
    buffer_put(buffer, "", 1);
    return buffer->bytes;
}

const char *visible(Arena *arena, const char *text)
{
    if (is_plain(text))
        return text;
    Buffer buffer;
    buffer_start(&buffer, arena);
    for (const char *end = text + strlen(text); text < end;) {
        ShownCharacter shown;
        text += show_character(text, (size_t)(end - text), &shown);
        buffer_text(&buffer, shown.text);
    }
    return finish(&buffer);
}

const char *well_formed(Arena *arena, const char *text)
{
    if (is_plain(text))
        return text;
    Buffer buffer;
    buffer_start(&buffer, arena);
    for (const char *end = text + strlen(text); text < end;) {
        utf8proc_int32_t character;
        utf8proc_ssize_t taken =
            utf8proc_iterate((const utf8proc_uint8_t *)text, (utf8proc_ssize_t)(end - text), &character);
        if (taken > 0)
            buffer_put(&buffer, text, (size_t)taken);
        else
            buffer_text(&buffer, REPLACEMENT);
        text += taken > 0 ? taken : 1;
    }
    return finish(&buffer);
}
