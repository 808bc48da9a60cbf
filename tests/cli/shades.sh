# Threads chosen by their colours: the verb shades.
mkdir -p shop
{
    echo 'edition 1'
    echo 'thread steel { turns: 67 per cm, colour: #4682b4 }'
    echo 'thread rose { turns: 67 per cm, colour: #d0708c }'
} >shop/spools.lay
cat >spools.lay <<'EOF'
edition 1
use "shop/spools" as shop
thread navy { turns: 67 per cm, colour: #22346b }
thread slate { turns: 67 per cm, colour: #4c6a9c }
thread mist { turns: 67 per cm, colour: #9db8d6 }
thread foam { turns: 67 per cm, colour: #dfe9ef }
thread gold { turns: 67 per cm, colour: #d4a017 }
thread plain { turns: 67 per cm }
EOF
expect 0 'shades between two threads' shades --between navy,foam spools.lay
empty 'a file without a rod is as good as any' "$err"
holds 'the walk is a list that a fade takes' "$out" 'For a fade: [navy, slate, shop.steel, mist, foam]'
holds 'what lies between stands there' "$out" 'shop.steel'
lacks 'what does not is left out' "$out" 'gold'
holds 'threads without a colour are counted' "$out" '1 thread has no colour in the file, and is left out.'
cp "$out" between.text
expect 0 'blanks round the names' shades --between ' navy , foam ' spools.lay
same 'they do not count' "$out" between.text
sed -i '$a blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }' spools.lay
{ cat spools.lay; echo 'rod "One" on tube { at 20 cm { fade 40 mm of [navy, slate, shop.steel, mist, foam] steps: 4 } }'; } >laid.lay
expect 0 'the list is laid as it is printed' check laid.lay
expect 0 'a step that is too large' shades --between navy,gold spools.lay
holds 'the missing shade is named by its colour' "$out" 'missing between slate and gold: something near #'
expect 0 'shades of all threads' shades spools.lay
holds 'each stands beside the one most like it' "$out" 'most like'
cp "$out" all.text
expect 0 'shades as other eyes see them' shades --eyes deuteranopia spools.lay
differ 'they are others' "$out" all.text
holds 'it is said whose eyes these are' "$out" 'As green-blind eyes see them.'
expect 0 'shades to eyes with all cones' shades --eyes all spools.lay
same 'these are the usual ones' "$out" all.text
holds 'others may mistake what they tell apart' "$out" 'Would be mistaken under the lamp by some eyes'
for verb in draw shades; do
    expect 0 "$verb --help" "$verb" --help
    holds "$verb says what all eyes are" "$out" '--eyes EYES         all (the default), or without some cones'
done
expect 0 'shades as json' shades --format json --between shop.rose,foam spools.lay
is_json 'it is JSON' "$out"
holds 'by the names that the file knows' "$out" '"from": "shop.rose"'
expect 0 'shades as svg' shades -o shades.svg spools.lay
holds 'it is a picture' shades.svg '<svg'
expect 0 'shades as svg, to other eyes' shades --eyes tritanopia -o tritan.svg spools.lay
differ 'the picture has other colours' shades.svg tritan.svg
holds 'and says so' tritan.svg 'as seen with tritanopia'
if [ -x "$TURNLAY-pdf" ]; then
    expect 0 'shades as png' shades --between navy,foam --width 400 -o shades.png spools.lay
    [ "$(head -c 4 shades.png | tail -c 3)" = PNG ]
    verdict 'it is a PNG' $?
fi
expect 1 'shades of a file with errors' shades bad.lay
empty 'there are none' "$out"
for fault in \
    "navi,foam: the file knows no thread navi; did you mean navy?" \
    "navy,shop.steal: the file knows no thread shop.steal; did you mean shop.steel?" \
    "navy,plain: plain has no colour; give it one, such as colour: #22346b" \
    "navy,navy: navy and navy are one thread; name two"; do
    names=${fault%%: *}
    expect 2 "shades between $names" shades --between "$names" spools.lay
    empty 'no page is written' "$out"
    holds 'it is said why' "$err" "${fault#*: }"
done
