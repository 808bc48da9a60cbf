# What the program says of a command line, to the letter: spoken.txt holds commands and what came of each. Of standard
# output, of help and explanations all; of a page its first two lines. SPOKEN=renew writes it anew.
printf '%s\n' 'edition 1' 'thread navy { turns: 67 per cm }' 'blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }' \
    'rod "One" on tube { at 20 cm length: 40 mm { chevron crossings: 2 ends: 24 turns of navy { strand 2 of navy } } }' \
    >crossed.lay
printf '%s\n' 'edition 1' 'use "good"' 'use "nowhere"' >user.lay

answer() { # COMMAND
    local whole=2
    case $1 in *--help* | help* | *" -h"* | explain*) whole=200 ;; esac
    eval "turnlay $1" </dev/null
    printf '$ %s\n' "$1"
    head -n "$whole" "$out" | sed 's/  *$//' | cut -c1-120
    sed "s|$work|WORK|g; s/^/! /" "$err"
    echo "= $code"
}

speak() { # COMMAND: what was said of it is in the file `was`
    answer "$1" >now
    cat now >>spoken_now
    cmp -s was now
    local status=$?
    [ $status = 0 ] || diff was now | head -20
    verdict "turnlay $1" $status
}

: >spoken_now
command=
while IFS= read -r line; do
    if [[ $line == '$ '* ]]; then
        [ -z "$command" ] || speak "$command"
        command=${line#'$ '}
        : >was
    fi
    printf '%s\n' "$line" >>was
done < <(cat "$tests/spoken.txt"; echo '$ ')
[ "${SPOKEN-}" != renew ] || cp spoken_now "$tests/spoken.txt"
