#include "base/visible.h"

#include "base/buffer.h"

#include <math.h>
#include <string.h>
#include <utf8proc.h>

static const char REPLACEMENT[] = "\xef\xbf\xbd"; /* U+FFFD */
enum { CONTROL_PICTURES = 0x2400, PICTURE_OF_DELETE = 0x2421, REPLACEMENT_CHARACTER = 0xfffd };

/* Format characters (general category Cf) without which words of some scripts are misspelt: numbers and names of
 * code points by the Unicode Character Database, from memory. Among them are the marks of direction, which Hebrew
 * and Arabic texts with Latin words or signs in them need: they turn no more round them than a letter of that
 * direction would. Overrides, embeddings and isolates do, and are not here. */
static const struct {
    utf8proc_int32_t first, last;
} spelling[] = {
    {0x0600, 0x0605},   /* Arabic signs that stand under numbers */
    {0x061c, 0x061c},   /* Arabic letter mark: a direction */
    {0x06dd, 0x06dd},   /* Arabic end of ayah */
    {0x070f, 0x070f},   /* Syriac abbreviation mark */
    {0x0890, 0x0891},   /* Arabic pound and piastre marks above */
    {0x08e2, 0x08e2},   /* Arabic disputed end of ayah */
    {0x180e, 0x180e},   /* Mongolian vowel separator */
    {0x200b, 0x200f},   /* space without width (parts words in Khmer, Thai); joiners; marks of direction */
    {0x110bd, 0x110bd}, /* Kaithi number sign */
    {0x110cd, 0x110cd}, /* Kaithi number sign above */
};

static bool spells_words(utf8proc_int32_t character)
{
    for (size_t i = 0; i < sizeof spelling / sizeof *spelling; i++)
        if (character >= spelling[i].first && character <= spelling[i].last)
            return true;
    return false;
}

/* Code points that are never characters: the Unicode Standard, section 23.7. XML 1.0 and cairo refuse some. */
static bool is_noncharacter(utf8proc_int32_t character)
{
    return (character & 0xfffe) == 0xfffe || (character >= 0xfdd0 && character <= 0xfdef);
}

/* The sign to show in place of a character, or the character itself. */
static utf8proc_int32_t stand_in(utf8proc_int32_t character)
{
    if (character >= 0 && character < ' ')
        return CONTROL_PICTURES + character;
    if (character < 0x7f || spells_words(character))
        return character;
    if (character == 0x7f)
        return PICTURE_OF_DELETE;
    if (is_noncharacter(character))
        return REPLACEMENT_CHARACTER;
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
    shown->columns = character_columns(character);
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

static const char *visible_but(Arena *arena, const char *text, const char *kept)
{
    if (is_plain(text))
        return text;
    Buffer buffer;
    buffer_start(&buffer, arena);
    for (const char *end = text + strlen(text); text < end;) {
        ShownCharacter shown;
        uint32_t taken = show_character(text, (size_t)(end - text), &shown);
        if (strchr(kept, *text))
            buffer_put(&buffer, text, 1);
        else
            buffer_text(&buffer, shown.text);
        text += taken;
    }
    return finish(&buffer);
}

const char *visible(Arena *arena, const char *text) { return visible_but(arena, text, ""); }
const char *visible_with_breaks(Arena *arena, const char *text) { return visible_but(arena, text, "\t\r\n"); }

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
