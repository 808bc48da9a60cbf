# Other threads, guides, blanks and values: --swap for a quick look, and a rod of one's own that is like another.
mkdir -p shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm, colour: #9db8d6 }'; echo 'thread dove { turns: 55 per cm }'; } >shop/threads.lay
cat >swapped.lay <<'END'
edition 1
use "shop/threads" as shop
let deep = #22346b
let edge = 8 turns
let share = 30 %
thread navy { turns: 67 per cm, colour: deep }
thread foam { turns: 67 per cm, colour: #dfe9ef }
thread plum { turns: 61 per cm, colour: #7a1f5c }
let shades = [navy, foam]
let others = [plum, foam, navy]
let narrow = 3 turns
let whole = 1
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
blank stout { at 0 mm: 16 mm  at 100 cm: 6 mm }
guide ring6 { foot: 14 mm }
guide ring16 { foot: [19 mm, 17 mm], gap: 9 mm }
pattern trim(main: thread = navy, of_edge: turns = edge) { band of_edge of main  band 3 turns of foam }
rod "Estuary" on tube {
    at 20 cm { for one in shades { band 10 turns of one }  trim() }
    at 30 cm { band 60 turns of shop.mist { inlay 2 turns of foam at: 1/3 } }
    at 50 cm guide: ring6 { trim(foam)  band fill of navy weight: share  band fill of foam }
}
END

# The second way: the same file with the words put in by hand, behind the declarations.
by_hand() { # NAME SWAP... ; each a name and what stands for it, in what comes after the declarations
    local name=$1 swap
    local arguments=() edits=() number=0
    shift
    for swap in "$@"; do
        number=$((number + 1))
        arguments+=(--swap "$swap")
        edits=(-e "/^let shades\|^pattern\|^rod\|^ /s/\b${swap%%=*}\b/<$number>/g" "${edits[@]}" -e "s/<$number>/${swap#*=}/g")
    done
    sed "${edits[@]}" swapped.lay >by_hand.lay
    turnlay plan --format csv by_hand.lay
    cp "$out" by_hand.csv
    turnlay plan --format csv "${arguments[@]}" swapped.lay
    [ "$code" = 0 ]
    verdict "$name is planned" $?
    same_plan "$name: as if it was written so" "$out" by_hand.csv
    mine "$@" >mine.lay
    turnlay plan --format csv mine.lay
    same_plan "$name: a rod that is like it is the same" "$out" by_hand.csv
    "$TURNLAY" gather mine.lay >gathered.lay 2>"$err"
    turnlay plan --format csv gathered.lay
    same_plan "$name: and gathered" "$out" by_hand.csv
}
mine() { # SWAP...: a file with a rod like that of swapped.lay
    echo 'edition 1'
    echo 'use "swapped"'
    echo 'use "shop/threads" as shop'
    echo "rod \"Estuary\" like \"Estuary\" { ${*//=/: } }"
}
cp swapped.lay sent.lay
turnlay plan --format csv swapped.lay
cp "$out" unswapped.csv
mine >mine.lay
turnlay plan --format csv mine.lay
same_plan 'a rod like another, with nothing swapped' "$out" unswapped.csv
by_hand 'a thread, also in a list and as a default' navy=plum
differ 'and it is another plan' "$out" unswapped.csv
by_hand 'a thread for one of a used file' navy=shop.dove
by_hand 'a thread of a used file' shop.mist=plum
by_hand 'two at once' navy=plum foam=shop.mist
by_hand 'one for the other' navy=foam foam=navy
by_hand 'a blank' tube=stout
by_hand 'a guide' ring6=ring16
by_hand 'turns' edge=narrow
by_hand 'a whole number for a ratio' share=whole
sed 's/^let shades.*/let shades = others/' swapped.lay >by_hand.lay
turnlay plan --format csv by_hand.lay
cp "$out" by_hand.csv
turnlay plan --format csv --swap shades=others swapped.lay
same_plan 'a list of threads' "$out" by_hand.csv
turnlay plan --format csv --swap ' navy = plum ' swapped.lay
cp "$out" spaced.csv
turnlay plan --format csv --swap navy=plum swapped.lay
same 'blanks round the names do not count' "$out" spaced.csv

# A colour: the thread alone, and its name says so; of a value all that rests on it.
expect 0 'a colour for a thread' need --swap navy=#ABcdef swapped.lay
holds 'its name says so' "$out" 'navy (#ABcdef) '
! grep -q '^navy  ' "$out"
verdict 'and no other thread of that name is needed' $?
turnlay plan --format csv --swap navy=#abcdef swapped.lay
sed 's/navy (#abcdef)/navy/' "$out" >recoloured.csv
same_plan 'its turns stay' recoloured.csv unswapped.csv
turnlay draw --swap navy=#abcdef swapped.lay
[ "$(grep -c '#abcdef' "$out")" -gt 0 ] && ! grep -q '#22346b' "$out"
verdict 'it is drawn in that colour' $?
expect 0 'a colour for a colour' draw --swap deep=#abcdef swapped.lay
[ "$(grep -c '#abcdef' "$out")" -gt 0 ] && ! grep -q '#22346b' "$out"
verdict 'the threads that rest on it are drawn so' $?
expect 0 'a colour by its name' need --swap navy=Dark-Red swapped.lay
holds 'the name as it was given' "$out" 'navy (Dark-Red) '
turnlay draw --swap navy=Dark-Red swapped.lay
holds 'is that of the standard' "$out" '#8b0000'
turnlay draw --swap navy=plum swapped.lay
lacks 'a thread of that name comes before a colour' "$out" '#dda0dd'
turnlay draw --swap deep=plum swapped.lay
holds 'but not where a colour belongs' "$out" '#dda0dd'
turnlay need --swap deep=#abcdef swapped.lay
cp "$out" deep.need
turnlay need swapped.lay
[ "$(grep -v '^file id' "$out")" = "$(grep -v '^file id' deep.need)" ]
verdict 'and keep their names' $?
cat >variegated.lay <<'END'
edition 1
thread dusk { turns: 67 per cm, colours: [#4c6a9c, #9db8d6], period: 9 cm }
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
rod "Dusk" on tube { at 20 cm { band 30 turns of dusk } }
END
turnlay draw --swap dusk=#abcdef variegated.lay
grep -q '#abcdef' "$out" && ! grep -q '#4c6a9c\|#9db8d6' "$out"
verdict 'a variegated thread is of one colour then' $?

# The file id: other threads, another wrap.
id_of() { # ARGUMENT...
    turnlay need "$@" && sed -n 's/^file id *\([^,]*\),.*/\1/p' "$out"
}
plain=$(id_of swapped.lay)
plum=$(id_of --swap navy=plum swapped.lay)
[ -n "$plain" ] && [ -n "$plum" ] && [ "$plain" != "$plum" ] && [ "$plum" = "$(id_of --swap navy=plum swapped.lay)" ] &&
    [ "$plum" != "$(id_of --swap navy=foam swapped.lay)" ] && [ "$plum" != "$(id_of --swap foam=plum swapped.lay)" ]
verdict 'each swap has a file id of its own' $?

sed 's/^use "swapped"/&\nuse "swapped" as again/' mine.lay >twice_used.lay
expect 0 'a file that is used twice has its rods once' check twice_used.lay
row() { # COUNT: so many rods like the one before
    cat swapped.lay
    for number in $(seq "$1"); do
        [ "$number" = 1 ] && echo 'rod "1" like "Estuary" { }' || echo "rod \"$number\" like \"$((number - 1))\" { }"
    done
}
row 64 >row.lay
expect 0 'sixty-four rods in a row' check row.lay
row 65 >row.lay
expect 1 'one more' check row.lay
holds 'is one too many' "$out" 'rods are like one another more than 64 deep (T902)'

# Its own blank, and one rod like another that is like a third.
sed 's/^rod "Estuary" on tube/rod "Estuary" on stout/' swapped.lay >by_hand.lay
turnlay plan --format csv by_hand.lay
cp "$out" by_hand.csv
mine >mine.lay
sed -i 's/ like / on stout like /' mine.lay
turnlay plan --format csv mine.lay
same_plan 'a rod like another on its own blank' "$out" by_hand.csv
cat >chain.lay <<'END'
edition 1
use "swapped"
thread rust { turns: 61 per cm, colour: #7a1f5c }
rod "Mine" like "Theirs" { tube: stout, plum: rust, foam: plum }
rod "Theirs" on tube like "Estuary" { navy: plum }
END
sed -e 's/^rod "Estuary" on tube/rod "Mine" on stout/' -e '/^let shades\|^pattern\|^rod\|^ /{s/\bnavy\b/rust/g; s/\bfoam\b/plum/g}' \
    -e 's/^thread plum.*/&\nthread rust { turns: 61 per cm, colour: #7a1f5c }/' swapped.lay >by_hand.lay
turnlay plan --format csv by_hand.lay
cp "$out" by_hand.csv
turnlay plan --format csv chain.lay
grep -v '^Theirs,' "$out" >mine.csv
same_plan 'a rod like one that is like a third' mine.csv by_hand.csv
turnlay plan --format csv --swap rust=foam chain.lay
grep '^Mine,' "$out" | cut -d, -f9 | sort -u >used
[ "$(sort -u used | tr '\n' ' ')" != '' ] && ! grep -q '^Mine,.*,rust,' "$out" && grep -q '^Mine,.*,foam,' "$out"
verdict 'what is asked for from outside counts for what stands in it, too' $?
same 'what was sent is as it was' swapped.lay sent.lay

for verb in check plan need sheet draw; do
    expect 0 "$verb --swap" "$verb" --swap navy=plum swapped.lay
done
refuse 'gather --swap' gather --swap navy=plum swapped.lay
refuse '--swap of one name' plan --swap navy swapped.lay
refuse '--swap for nothing' plan --swap navy= swapped.lay
refuse '--swap of nothing' plan --swap =plum swapped.lay
several_swaps() { # WORD WORDS
    refuse "--swap $1" plan --swap "$1" swapped.lay
    holds "--swap $1: they are written out" "$err" "each swap has a --swap of its own: $2"
}
several_swaps navy=seagreen,foam=gold '--swap navy=seagreen --swap foam=gold'
several_swaps 'navy = #7a1f5c; foam = mist ; edge=3' '--swap navy=#7a1f5c --swap foam=mist --swap edge=3'
for word in navy=plum,foam navy=plum,foam= 'navy=plum;'; do
    expect 2 "--swap $word" plan --swap "$word" swapped.lay
    holds "--swap $word is one swap" "$err" "--swap $word: the file knows no ${word#*=}"
done
wrong() { # SWAP WORDS
    expect 2 "--swap $1" plan -o page --swap "$1" swapped.lay
    holds "--swap $1: it is said why" "$err" "turnlay: swapped.lay: --swap $1: $2"
    no_file "--swap $1: nothing is written" page
}
wrong navi=plum 'the file knows no navi; did you mean navy?'
wrong shop.mits=plum 'the file knows no shop.mits; did you mean shop.mist?'
wrong store.mist=plum 'the file knows no store.mist'
wrong rign6=ring16 'the file knows no rign6; did you mean ring6?'
wrong navy=plumm 'the file knows no plumm; did you mean plum?'
wrong tube=plum 'tube is a blank, and plum is a thread; like is swapped for like'
wrong ring6=#112233 'ring6 is a guide, and #112233 is a colour; like is swapped for like'
wrong ring6=teal 'ring6 is a guide, and teal is a colour; like is swapped for like'
wrong navy=trim 'navy is a thread, and trim is a pattern; like is swapped for like'
wrong shades=navy 'shades is a list of threads, and navy is a thread; like is swapped for like'
wrong trim=navy 'trim is a pattern, which cannot be swapped'
wrong navy=#12345 'a colour is written as # and six digits, such as #7a1f5c'
wrong navy=#12345g 'a colour is written as # and six digits, such as #7a1f5c'
wrong stout=tube 'no rod of the file uses stout'
expect 2 'one thread swapped twice' plan --swap navy=plum --swap navy=foam swapped.lay
holds 'it is said' "$err" '--swap navy=foam: it is swapped twice; leave one of them out'
expect 2 'the first that is wrong' plan --swap navy=plum --swap gold=plum --swap tan=plum swapped.lay
holds 'is said' "$err" '--swap gold=plum: the file knows no gold'
expect 1 'a file with errors' plan --swap navi=plum bad.lay
holds 'has its findings first' "$err" 'T101'
lacks 'and no more is said' "$err" '--swap'
sed 's/^thread plum.*/thread plum { turns: 0.5 per m }/' swapped.lay >faulty.lay
expect 1 'a thread with a fault' plan --swap navy=plum faulty.lay
lacks 'is a finding alone' "$err" '--swap'
expect 2 'the worst of two files counts' check --swap shop.mist=plum swapped.lay good.lay
holds 'and says which' "$err" 'turnlay: good.lay: --swap shop.mist=plum: the file knows no shop.mist'
