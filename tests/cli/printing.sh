# PDF and PNG are printed by turnlay-pdf, and there in a process of its own: whatever becomes of the two, turnlay has an
# answer.
mkdir beside
cp "$TURNLAY" beside/turnlay
built=$TURNLAY
TURNLAY=$PWD/beside/turnlay
writer() { # LINE...: what turnlay-pdf does
    printf '%s\n' '#!/bin/sh' "$@" >beside/turnlay-pdf
    chmod +x beside/turnlay-pdf
}
for wanted in 0 1 2 3; do
    writer "exit $wanted"
    expect $wanted "turnlay-pdf's exit code $wanted is passed on" sheet --format pdf good.lay
    empty "turnlay adds no words to exit code $wanted" "$err"
done
# shellcheck disable=SC2016
writer 'echo "$*" >words'
expect 0 'turnlay-pdf is called' sheet --format pdf --paper letter -o page.pdf good.lay
holds 'turnlay-pdf has the same command line' words 'sheet --format pdf --paper letter -o page.pdf good.lay'
expect 0 'turnlay-pdf is called for a PNG' draw --width 400 -o page.png good.lay
holds 'it has the same command line then' words 'draw --width 400 -o page.png good.lay'
rm words
expect 0 'turnlay-pdf has nothing to do with an SVG' draw -o page.svg good.lay
no_file 'and is not called for one' words
writer 'exit 127'
expect 3 'a turnlay-pdf that does not start is exit code 3' sheet --format pdf good.lay
holds 'it is told, with a way out' "$err" '--format html takes less and prints as well'
expect 3 'of a PNG, too' draw --format png good.lay
holds 'it is told of the PNG, with a way out' "$err" \
    'no PNG was made: turnlay-pdf, which writes it, did not start or broke off; most likely this machine has too little memory left for it; --format svg takes less and shows the same'
for signal in SEGV TRAP ABRT KILL; do
    writer "kill -$signal \$\$"
    expect 3 "a turnlay-pdf that ends by $signal is exit code 3" sheet --format pdf good.lay
    holds 'it is told, with a way out' "$err" '--format html takes less and prints as well'
done
echo 'no program' >beside/turnlay-pdf
expect 3 'a turnlay-pdf that is no program is exit code 3' sheet --format pdf good.lay
holds 'it is told, with a way out' "$err" '--format html takes less and prints as well'
chmod -x beside/turnlay-pdf
expect 2 'a turnlay without turnlay-pdf cannot write PDF' sheet --format pdf good.lay
holds 'it says what can be done' "$err" \
    'this turnlay was built without cairo and pango and cannot write PDF; --format html prints as well'
expect 2 'nor PNG' draw -o page.png good.lay
holds 'it says what can be done then' "$err" \
    'this turnlay was built without cairo and pango and cannot write PNG; --format svg shows the same'
# Signals to turnlay are meant for both; what turnlay-pdf is writing then it can still put in order.
for signal in HUP INT QUIT TERM ALRM USR1 USR2 XCPU; do
    rm -f cleared
    writer "trap 'touch cleared; exit 3' $signal" "kill -$signal \$PPID" 'i=0' \
        'while [ $i -lt 100 ]; do sleep 0.05; i=$((i + 1)); done'
    env --default-signal "$TURNLAY" sheet --format pdf good.lay >"$out" 2>"$err"
    code=$?
    [ "$code" = 3 ] && [ -e cleared ]
    verdict "$signal to turnlay reaches turnlay-pdf, which is waited for" $?
done
writer 'kill -TERM $PPID' 'exec sleep 5'
python3 -c 'import subprocess, sys; sys.exit(subprocess.call(sys.argv[1:]) != -15)' \
    "$TURNLAY" sheet --format pdf good.lay >"$out" 2>"$err"
verdict 'turnlay ends by the signal that ended turnlay-pdf' $?
rm -f cleared
writer "trap 'touch cleared; exit 3' HUP" 'kill -HUP $PPID' 'sleep 0.2'
env --default-signal --ignore-signal=HUP "$TURNLAY" sheet --format pdf good.lay >"$out" 2>"$err"
code=$?
[ "$code" = 0 ] && ! [ -e cleared ]
verdict 'what was ignored stays ignored' $?
rm -f cleared
writer "trap 'touch cleared; exit 3' TERM" 'kill -KILL $PPID' 'i=0' \
    'while [ $i -lt 100 ]; do sleep 0.05; i=$((i + 1)); done'
{ "$TURNLAY" sheet --format pdf good.lay >"$out" 2>"$err"; } 2>/dev/null
for _ in $(seq 100); do
    [ -e cleared ] || sleep 0.05
done
[ -e cleared ]
verdict 'turnlay-pdf does not outlive a turnlay that was killed' $?
TURNLAY=$built

# With little memory: the page, whole, or exit code 3, a way out and nothing else.
sweep() { # PROGRAM KIND KIB...
    local program=$1 name=${1##*/} kind=$2 kib way_out='html takes less and prints as well' request='sheet --format pdf'
    [ "$kind" = PDF ] || { way_out='svg takes less and shows the same' request='draw --format png'; }
    shift 2
    for kib in "$@"; do
        echo 'an older page' >page
        # shellcheck disable=SC2086
        (ulimit -c unlimited; ulimit -v "$kib" && exec "$program" $request -o page ../good.lay) >"$out" 2>"$err"
        code=$?
        case $code in
        0) cmp -s page "../whole.$kind" && ! [ -s "$out" ] && whole=$((whole + 1)) ;;
        3)
            short=$((short + 1))
            [ "$(cat page)" = 'an older page' ] && ! [ -s "$out" ] && ! grep -qi -e 'glib' -e 'cairo' "$err" &&
                grep -q -e "^turnlay: no $kind was made: .*; --format $way_out\$" \
                    -e "^turnlay: no $kind can be written: this machine has no font" \
                    -e '^turnlay: this machine has no memory left$' "$err"
            ;;
        *) false ;;
        esac && [ "$(ls -A)" = page ]
        verdict "a $kind in $kib KiB of memory, by $name" $?
    done
}

if [ -x "$TURNLAY-pdf" ]; then
    expect 0 'a PDF in all memory there is' sheet --format pdf -o whole.PDF good.lay
    pdfinfo whole.PDF | grep -q '^Page size: .*595.* x 841'
    verdict 'it is on A4 if nothing else is said' $?
    expect 0 'a PDF on letter paper' sheet --format pdf --paper letter -o letter.pdf good.lay
    pdfinfo letter.pdf | grep -q '^Page size: *612 x 792 '
    verdict 'it is 8 1/2 by 11 in' $?
    env --ignore-signal=CHLD "$TURNLAY" sheet --format pdf -o again.pdf good.lay >"$out" 2>"$err"
    code=$?
    cmp -s again.pdf whole.PDF
    verdict 'a PDF where SIGCHLD is ignored' $?
    mkdir little
    cd little || exit 1
    whole=0
    short=0
    # shellcheck disable=SC2046
    sweep "$TURNLAY" PDF $(seq 20000 6000 140000) 400000
    [ "$whole" -gt 0 ] && [ "$short" -gt 0 ]
    verdict "some of these limits were enough ($whole), others not ($short)" $?
    for kib in $(seq 20000 20000 140000); do
        # Where it starts at all: what the loader says is not its own.
        (ulimit -v "$kib" && "$TURNLAY-pdf" --version) >/dev/null 2>&1 && sweep "$TURNLAY-pdf" PDF "$kib"
    done
    expect 0 'a PNG in all memory there is' draw --format png -o ../whole.PNG ../good.lay
    whole=0
    short=0
    # shellcheck disable=SC2046
    sweep "$TURNLAY" PNG $(seq 60000 12000 180000) 400000
    [ "$whole" -gt 0 ] && [ "$short" -gt 0 ]
    verdict "some of these limits were enough for it ($whole), others not ($short)" $?
    cd ..
else
    skip 'printing in little memory' 'there is no turnlay-pdf'
fi
