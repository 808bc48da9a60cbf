# A line of text as a C string literal; for the scripts that embed texts.

# Quotes and backslashes are escaped, and question marks too, since "??" begins a trigraph in C17.
function literal(line,    out, i, sign) {
    out = ""
    for (i = 1; i <= length(line); i++) {
        sign = substr(line, i, 1)
        if (sign == "\\" || sign == "\"" || sign == "?")
            out = out "\\"
        out = out (sign == "\t" ? "\\t" : sign)
    }
    return "\"" out "\\n\""
}
