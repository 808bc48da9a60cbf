# The bench sheet: its formats, the rest of it, and planning again after a measured width.
cat >wide.lay <<'END'
edition 1
thread navy { turns: 67 per cm }
thread foam { turns: 67 per cm }
bench { units: mm }
blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }
rod "Wide" on tube { at 20 cm length: 40 mm { band 60 turns of navy  band fill of foam } }
END
expect 0 'sheet' sheet wide.lay
holds 'the sheet winds turns' "$out" 'wind 6 turns; trim its tag'
holds 'the sheet lists what to cut' "$out" 'Cut and mount first'
step=$(awk '/^\[ \] +[0-9]+  /{step=$3} / measured: _/{print step; exit}' "$out")
expect 0 'sheet --from' sheet --from "$step" wide.lay
holds 'the rest begins with its step' "$out" "[ ]   $step  "
lacks 'the rest lacks what is done' "$out" 'Start navy 1 over its own tag'
expect 0 'sheet --depth steps' sheet --depth steps wide.lay
lacks 'it is told in steps' "$out" 'Trim the tag of navy 1'
expect 0 'sheet --depth actions' sheet --depth actions wide.lay
holds 'each action has its number within its step' "$out" '[ ]   4.3  Trim the tag of navy 1'
expect 0 'sheet --depth actions --from' sheet --depth actions --from "$step" wide.lay
holds 'it begins with the first action of that step' "$out" "[ ]   $step.1  "
lacks 'and has none before it' "$out" '[ ]   4.3  '
expect 0 'sheet --depth cards' sheet --depth cards wide.lay
holds 'a card has a line for each run' "$out" 'starts over its tag'
lacks 'and no steps' "$out" 'wind 6 turns; trim its tag'
refuse 'cards from a step on' sheet --depth cards --from 2 wide.lay
refuse 'no such depth' sheet --depth turns wide.lay
refuse 'a depth of a page' sheet --depth actions --format html wide.lay
# The cut list of the rest holds what is taken up there or later, the step itself included.
"$TURNLAY" sheet wide.lay | grep '^\[ \]  [a-z]' >cuts
[ "$(wc -l <cuts)" -ge 3 ]
verdict 'there are pieces to be cut' $?
for first in $(awk '{ print $NF }' cuts); do
    "$TURNLAY" sheet --from "$first" wide.lay | grep '^\[ \]  [a-z]' >rest
    awk -v first="$first" '$NF >= first' cuts | cmp -s - rest
    verdict "the rest from step $first on has its pieces" $?
done
"$TURNLAY" sheet --from "$step" wide.lay >"$out"
last=$(sed -n 's/^\[ \] *\([0-9]*\)  .*/\1/p' "$out" | tail -n 1)
expect 0 'sheet --from the last step' sheet --from "$last" wide.lay
expect 2 'sheet --from beyond the last step' sheet --from "$((last + 1))" wide.lay
holds 'it says how many there are' "$err" "the sheet of wide.lay has $last steps; there is no step $((last + 1))"
empty 'no sheet is printed' "$out"
expect 0 'sheet --measured' sheet --measured "$step=38.4mm" wide.lay
holds 'the sheet says why it changed' "$out" 'Planned again after measuring'
holds 'the sheet says what was measured' "$out" '9.1 mm wide'
holds 'the sheet says what changed' "$out" 'foam: 204 turns instead of 208'
tr -s ' \n' '  ' <"$out" >flat
holds 'and where one stands' flat 'wrap: measured up to turn 254 of the layer; turn 255 comes next, in step 9. '
holds 'the sheet says what was learned' "$out" ', by what was measured'
expect 0 'a width in the midst of a later step' sheet --measured "$step=42mm sure" wide.lay
tr -s ' \n' '  ' <"$out" >flat
holds 'how many turns of that step lie' flat 'measured up to turn 254 of the layer; turn 255 comes next, in step 8 after 6 turns of it. '
expect 0 'a width at the end' sheet --measured "$((step + 1))=38.4mm" wide.lay
tr -s ' \n' '  ' <"$out" >flat
holds 'nothing comes next in the layer' flat "measured up to turn 268 of the layer, its last; go on behind the measuring in step $((step + 1)). "
expect 0 'a mishap after a width' sheet --from 1 --measured "$step=38.4mm" --mishap '9 unwound to turn 255' wide.lay
holds 'what changed is said' "$out" 'Planned again'
tr -s ' \n' '  ' <"$out" >flat
lacks 'one stands elsewhere by now' flat 'measured up to'
holds 'and that is said' flat 'Go on in step'
expect 0 'plan --measured' plan --format csv --measured "$step=3.84cm" wide.lay
holds 'the fill takes up the difference' "$out" ',10,'
for width in 1.5in '1 1/2 in' '1-1/2in' '1.5"' '1 1/2"' '3/2 in' "0.125 ft" "38.1mm" "3.81 cm"; do
    expect 0 "--measured $width" plan --format csv --measured "$step=$width" wide.lay
    holds "the same width again ($width)" "$out" ',12,'
done
for width in "1-3/8 in" "1 3/8in" '1 3/8"' "1.375 in" "34.925mm" "34.925 mm" "3.4925cm"; do
    expect 0 "--measured $width" sheet --measured "$step=$width" wide.lay
    holds "it is read whole ($width)" "$err" 'measures 34.9'
done
for width in "0' 3/8\"" "1 ft 3/8" "3/8" "3/0 in" "3 in 1 ft" "1 in 2 in" "/8 in" "3//8 in" "1 in." "-3/8 in" "nan in" "0x3 in" "1e1 mm" "3/8 turns" \
    "38.4 mm surely" "38.4 mm after turns" "38.4 mm after 0 turns" "38.4 mm after 9" "38.4 mm sure after 9 turns" "38.4 mm 9 turns" "sure" ""; do
    refuse "no width: $width" sheet --measured "$step=$width" wide.lay
done
expect 0 'feet and inches' sheet --measured "$step=1' 2 1/2\"" wide.lay
holds 'feet and inches are added' "$err" '368.30'
expect 0 'a width that is far off' sheet --measured "$step=41mm" wide.lay
holds 'it is asked about' "$err" 'this width is left out: after 254 turns this layer measures 41.00 mm, and 37.91 mm was expected: 3.09 mm are 21 turns (T320)'
holds 'and the way out is said' "$err" 'pack, measure again and count the turns again'
lacks 'and not heeded' "$out" 'Planned again'
tr -s ' \n' '  ' <"$out" >flat
holds 'the sheet says so' flat 'Left out, for it is too far off: 41.0 mm measured after turn 254 of the layer, where 37.9 mm was expected. Measure and count again before you go on.'
holds 'and its top, too' flat 'from the butt, toward the tip, wrap: a width is left out, for it is too far off. Measure and count again before you go on. Cautions'
lacks 'nothing goes on from it' flat 'measured up to'
expect 0 'quietly' sheet -q --measured "$step=36mm" wide.lay
tr -s ' \n' '  ' <"$out" >flat
holds 'the sheet alone says so then' flat 'Left out, for it is too far off: 36.0 mm measured'
expect 0 'as a page' sheet --format html --measured "$step=41mm" wide.lay
holds 'the page says so' "$out" 'Left out, for it is too far off'
holds 'and its top' "$out" 'toward the tip, wrap: a width is left out, for it is too far off.'
expect 0 'a page that goes on' sheet --format html --measured "$step=38.4mm" wide.lay
holds 'it says where' "$out" 'toward the tip, wrap: measured up to turn 254 of the layer; turn 255 comes next, in step 9.</p>'
expect 0 'a sheet on which nothing happened' sheet wide.lay
lacks 'it has no such heading' "$out" 'What happened'
expect 0 'as data' sheet --format json --mishap '5 broke after 30 turns' --measured 9=42mm wide.lay
holds 'the data say which' "$out" '"left_out": [1]'
expect 0 'as data, heeded' sheet --format json --measured "$step=41mm sure" wide.lay
lacks 'they say nothing of one that is heeded' "$out" 'left_out'
expect 0 'a width that is sure' sheet --measured "$step=41mm sure" wide.lay
holds 'it is heeded' "$out" 'foam: 202 turns instead of 208'
holds 'what stays off is said' "$err" 'the end of this wrap moves by 2.29 mm'
expect 0 'turns that were counted otherwise' sheet --measured "$step=37.9mm after 190 turns" wide.lay
holds 'they are what is made' "$out" '190 in the band'
expect 0 'one width after the other' sheet --measured "$step=38.4mm" --measured "$step=37.8mm" wide.lay
holds 'both are heeded' "$out" 'foam: '
expect 2 'a step that does not measure' sheet --measured 1=9.6mm wide.lay
holds 'it is told which do' "$err" 'no width is measured in step 1 of the sheet'
expect 2 'the second one that does not' sheet --measured "$step=38.4mm" --measured 2=9.6mm wide.lay
holds 'that step is named' "$err" 'no width is measured in step 2 of the sheet'
expect 2 'a step beyond the last' sheet --measured 4000=9.6mm wide.lay
holds 'it says that there is none' "$err" 'there is no step 4000'
refuse 'a width without a unit' sheet --measured "$step=9.6" wide.lay
expect 0 'a width that cannot be meant' sheet --measured "$step=96mm sure" wide.lay
holds 'it is told' "$err" 'this width is left out, for no packing makes it: after 254 turns this layer measures 96.00 mm, and 37.91 mm was expected (T320)'
holds 'what is to be looked at is said' "$err" 'mind the unit and the decimal point'
lacks 'to be sure is no way out' "$err" '`sure`'
expect 0 'a width that is far off, and measured again' sheet --measured "$step=41mm" --measured "$step=38.4mm" wide.lay
lacks 'it is answered' "$out" 'Left out'
expect 0 'a thread that broke' sheet --mishap '5 broke after 30 turns' wide.lay
lacks 'what is done is left out' "$out" 'Start navy 1 over its own tag'
holds 'a new piece goes on' "$out" 'start navy 2 over'
expect 0 'the other way' sheet --mishap '5 broke after 30 turns, restart' wide.lay
holds 'it is begun anew' "$out" 'Start navy 1 over its own tag'
expect 0 'all steps, if asked for' sheet --from 1 --mishap '5  broke  after 30 turns , splice' wide.lay
holds 'from the first' "$out" '[ ]   1  '
for mishap in '5 spool empty after 1 turn' '5 unwound to turn 6' '5 tag out' '5 broke after 1 turn,restart' ' 5 broke after 30 turns '; do
    expect 0 "--mishap $mishap" plan --mishap "$mishap" wide.lay
done
expect 0 'widths and mishaps in their order' sheet --mishap '5 broke after 30 turns' --measured 9=38.4mm wide.lay
for mishap in '' 5 '5 broke' '0 broke after 5 turns' 'broke after 5 turns' '5 broke after turns' '5broke after 5 turns' \
    '5 broke after 5 turns splice' '5 broke after 5 turns, weld' '5 loop torn now' '5 broke after 4000000000 turns'; do
    refuse "no mishap: $mishap" sheet --mishap "$mishap" wide.lay
done
expect 2 'a mishap where nothing is wound' sheet --mishap '1 broke after 5 turns' wide.lay
holds 'it says where one is' "$err" 'no thread is in work in step 1; the nearest such step is '
expect 2 'more turns than the step has' sheet --mishap '4 broke after 7 turns' wide.lay
holds 'it says how many there are' "$err" 'step 4 has 6 turns'
expect 2 'a step beyond the last' sheet --mishap '4000 tag out' wide.lay
holds 'it says that there is none' "$err" 'there is no step 4000'
refuse 'a sheet as csv' sheet --format csv wide.lay
refuse 'a plan as pdf' plan --format pdf wide.lay
expect 0 'sheet --format html' sheet --format html wide.lay
holds 'the page is a page' "$out" '<!DOCTYPE html>'
if [ -x "$TURNLAY-pdf" ]; then
    expect 0 'sheet --format pdf' sheet --format pdf -o page.pdf wide.lay
    holds 'the pdf is one' page.pdf '%PDF-'
    expect 1 'a pdf of a bad file' sheet --format pdf -o none.pdf bad.lay
    no_file 'no pdf is written for it' none.pdf
else
    skip 'sheet --format pdf' 'this build cannot write PDF; make deps installs what that needs'
fi
cp "$TURNLAY" alone
built=$TURNLAY
TURNLAY=$PWD/alone
expect 2 'sheet --format pdf without turnlay-pdf beside it' sheet --format pdf wide.lay
holds 'it says what prints as well' "$err" '--format html prints as well'
TURNLAY=$built
