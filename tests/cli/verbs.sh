# What each verb prints, where, and with which exit code.
expect 0 'check of a good file' check good.lay
expect 1 'check of a bad file' check bad.lay
holds 'check prints findings on standard output' "$out" 'T101'
holds 'a finding names file and line' "$out" 'bad.lay:5:'
empty 'check says nothing on standard error' "$err"
expect 0 'a warning alone is no failure' check warned.lay
holds 'the warning is printed' "$out" 'T010'
expect 1 'check --findings json' check --findings json bad.lay
is_json 'check --findings json prints JSON on standard output' "$out"
holds 'check --findings json holds the code' "$out" 'T101'
expect 0 'check --findings json of a good file' check --findings json good.lay
is_json 'check --findings json prints JSON without findings too' "$out"
expect 1 'check -o' check -o findings.text bad.lay
holds 'check -o writes the findings there, errors or not' findings.text 'T101'

for verb in plan need; do
    for format in text json csv; do
        expect 0 "$verb --format $format" "$verb" --format "$format" good.lay
        [ -s "$out" ] && [ "$(tail -c 1 "$out")" = '' ]
        verdict "$verb --format $format prints whole lines" $?
        cp "$out" "$verb.$format"
    done
    is_json "$verb --format json is JSON" "$verb.json"
    expect 0 "$verb without a format" "$verb" good.lay
    same "$verb prints text by itself" "$out" "$verb.text"
    expect 1 "$verb of a bad file" "$verb" bad.lay
    holds "$verb prints findings on standard error" "$err" 'T101'
    empty "$verb of a bad file prints no result" "$out"
    expect 0 "$verb of a file with a warning" "$verb" warned.lay
    holds "$verb prints the warning on standard error" "$err" 'T010'
    [ -s "$out" ]
    verdict "$verb prints its result despite the warning" $?
done
expect 1 'plan --findings json of a bad file' plan --findings json bad.lay
is_json 'plan --findings json prints findings as JSON on standard error' "$err"

for view in side unrolled rod presentation eye; do
    expect 0 "draw --view $view" draw --view "$view" good.lay
    holds "draw --view $view prints SVG" "$out" '<svg'
    empty "draw --view $view of one rod says nothing" "$err"
    cp "$out" "$view.svg"
done
differ 'two views differ' side.svg unrolled.svg
for eyes in all protanopia deuteranopia tritanopia; do
    expect 0 "draw --eyes $eyes" draw --view side --eyes "$eyes" good.lay
    cp "$out" "$eyes.svg"
done
lacks 'a picture for all eyes says nothing of them' all.svg 'as seen with'
for eyes in protanopia deuteranopia tritanopia; do
    holds "a picture for $eyes says so" "$eyes.svg" "as seen with $eyes"
done
same 'eyes with all cones are the usual ones' all.svg side.svg
differ 'other eyes see other colours' protanopia.svg tritanopia.svg
differ 'the rod is not its presentation' rod.svg presentation.svg
cat >crossed.lay <<'EOF'
edition 1
thread navy { turns: 67 per cm }
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
rod "Crossed" on tube {
    at 20 cm length: 60 mm { chevron crossings: 3 ends: 24 turns of navy { strand 2 of navy } }
}
EOF
for angle in 0 '0 deg' 90 '90 deg' 275.5; do
    expect 0 "draw --turn '$angle'" draw --view side --turn "$angle" crossed.lay
    cp "$out" "turned-${angle% deg}.svg"
done
expect 0 'draw of a crosswrap' draw --view side crossed.lay
same 'the side that faces up is seen by itself' "$out" turned-0.svg
differ 'draw --turn shows another side' turned-0.svg turned-90.svg
turnlay draw --turn 45 crossed.lay
cp "$out" turned.svg
turnlay draw crossed.lay
differ 'draw --turn shows another side of the rod' turned.svg "$out"
refuse 'an angle that is none' draw --turn around crossed.lay
expect 0 'draw --view template' draw --view template crossed.lay
holds 'a template is SVG in mm' "$out" 'mm" viewBox'
turnlay draw --view template good.lay
[ "$code" = 2 ]
verdict 'a template of a rod without a crosswrap is wrong use' $?
expect 2 'a template at another scale is wrong use' draw --view template --scale 2 crossed.lay
turnlay draw good.lay
same 'draw shows the whole rod by itself' "$out" rod.svg
expect 0 'draw --scale' draw --scale 2 good.lay
differ 'draw --scale changes the picture' "$out" rod.svg
expect 0 'draw of two rods' draw two.lay
holds 'draw says which of several rods it took' "$err" '"First"'
cp "$out" first.svg
expect 0 'draw --rod 1' draw --rod 1 two.lay
same 'draw without --rod is that of the first' "$out" first.svg
lacks 'draw --rod has nothing to say' "$err" 'rods'
expect 0 'draw --rod 2' draw --rod 2 two.lay
differ 'draw --rod 2 is another picture' "$out" first.svg
turnlay draw --rod 2 two.lay
cp "$out" second.svg
expect 0 'draw --rod TITLE' draw --rod Second two.lay
same 'draw --rod TITLE is that rod' "$out" second.svg
no_rod() { # NAME ROD WORDS
    expect 2 "draw --rod $2" draw --rod "$2" two.lay
    [ "$(wc -l <"$err")" = 1 ] && grep -qF -- "$3" "$err" && ! [ -s "$out" ]
    verdict "$1" $?
}
no_rod 'a number that is too large' 3 'two.lay has no rod "3"; it has 2, the first is "First"'
no_rod 'rods count from 1' 0 'no rod "0"; it has 2'
no_rod 'a title in capital letters' SECOND 'no rod "SECOND"; did you mean "Second"?'
no_rod 'a title mistyped' Scond 'no rod "Scond"; did you mean "Second"?'
no_rod 'a title like no other' Harbour 'no rod "Harbour"; it has 2, the first is "First"'
no_rod 'a number with more behind it' 2nd 'no rod "2nd"'
sed 's/"First"/"2"/' two.lay >numbered.lay
turnlay draw --rod 1 numbered.lay
cp "$out" first.svg
expect 0 'draw --rod 2 where that is the title of the first' draw --rod 2 numbered.lay
same 'the title goes before the number' "$out" first.svg
{ sed '/^rod/,$d' good.lay; echo 'blank low { at 0 mm: 13 mm  at 100 cm: 8 mm }'; echo 'blank high { at 0 mm: 8.6 mm  at 100 cm: 3 mm }'
  echo 'rod "Two" on [low, high] overlap: 6 cm { at 20 cm { band 40 turns of navy }  at 120 cm { band 40 turns of navy } }'; } >sections.lay
expect 0 'draw of a rod of sections' draw sections.lay
cp "$out" sections.svg
expect 0 'draw --section' draw --section high sections.lay
holds 'draw --section says which' "$out" 'Two, section 2 of 2: high'
expect 0 'draw --view side' draw --view side sections.lay
holds 'draw --view side draws all sections' "$out" 'from the butt, toward the tip'
holds 'and says which is which' "$out" 'Section 1 of 2: low'
place=$(grep -o '>20[^<]* from the butt, toward the tip<' "$out" | head -n 1)
holds 'the place of the first section is there' "$out" "${place:-no such place}"
expect 0 'draw --view side --section' draw --view side --section high sections.lay
lacks 'draw --section draws no other' "$out" "$place"
{ cat sections.lay; echo 'blank short { at 0 mm: 13 mm  at 60 cm: 8 mm }'
  echo 'rod "Short" on [short, high] overlap: 6 cm { at 20 cm { band 40 turns of navy } }'
  echo 'rod "Next" on [short, high] overlap: 6 cm { at 30 cm { band 40 turns of navy } }'; } >rods.lay
expect 0 'draw --section without --rod' draw --section short rods.lay
holds 'draw --section draws the first rod that has it' "$out" 'Short, section 1 of 2: short'
[ "$(cat "$err")" = 'turnlay: rods.lay has 3 rods; this is the first with short, "Short" (--rod NAME draws another)' ]
verdict 'draw --section says which rod that is' $?
expect 0 'draw --section of several rods' draw --section high rods.lay
holds 'draw --section draws the first of several that have it' "$out" 'Two, section 2 of 2: high'
expect 0 'draw --rod --section' draw --rod Next --section short rods.lay
holds 'draw --rod --section draws that rod' "$out" 'Next, section 1 of 2: short'
for words in 'shrt:did you mean "short"?' 'middle:the first is "low"'; do
    expect 2 "draw --section ${words%%:*}" draw --section "${words%%:*}" rods.lay
    [ "$(cat "$err")" = "turnlay: rods.lay has no section \"${words%%:*}\"; ${words#*:}" ] && ! [ -s "$out" ]
    verdict "draw --section ${words%%:*} says that alone" $?
done
expect 2 'draw --rod --section of another' draw --rod Two --section short rods.lay
expect 0 'sheet --section' sheet --section low sections.lay
holds 'sheet --section has that section' "$out" 'section 1 of 2: low'
holds 'sheet --section has what is done to the whole rod' "$out" 'all sections'
lacks 'sheet --section has no other' "$out" 'section 2 of 2'
expect 0 'sheet' sheet sections.lay
last=$(sed -n 's/^\[ \] *\([0-9]*\)  Wind .*/\1/p' "$out" | tail -1)
expect 0 'sheet --from' sheet --from "$last" sections.lay
holds 'sheet --from says a caution where it is met first then' "$out" 'Caution: hair, sleeves'
expect 0 'sheet --section --from' sheet --section low --from 3 sections.lay
lacks 'sheet --section --from begins there' "$out" '[ ]   2'
for page in html json pdf; do
    [ "$page" = pdf ] && [ ! -x "$TURNLAY-pdf" ] && continue
    expect 0 "sheet --section as $page" sheet --section low -o one.$page sections.lay
    expect 0 "sheet as $page" sheet -o all.$page sections.lay
    [ "$(wc -c <one.$page)" -lt "$(wc -c <all.$page)" ]
    verdict "sheet --section as $page is shorter" $?
done
no_section() { # NAME FILE SECTION WORDS
    expect 2 "sheet --section $3" sheet --section "$3" "$2"
    [ "$(wc -l <"$err")" = 1 ] && grep -qF -- "$4" "$err" && ! [ -s "$out" ]
    verdict "$1" $?
}
no_section 'a section mistyped' sections.lay hihg 'no section "hihg"; did you mean "high"?'
no_section 'a section in capital letters' sections.lay LOW 'did you mean "low"?'
no_section 'a section like no other' sections.lay middle 'no section "middle"; the first is "low"'
no_section 'a section of a rod of one piece' good.lay tube 'its rod is of one piece; leave out --section'
expect 1 'draw of a file without a rod' draw norod.lay
empty 'a file without a rod gives no picture' "$out"
expect 1 'draw of a bad file' draw bad.lay
empty 'draw of a bad file prints no picture' "$out"

mkdir -p shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
{ sed 's/of navy/of shop.mist/' good.lay; echo 'use "shop/threads" as shop'; } >user.lay
expect 0 'gather' gather user.lay
mkdir -p far
cp "$out" far/gathered.lay
turnlay plan --format csv user.lay
cp "$out" whole.csv
(cd far && turnlay plan --format csv gathered.lay; exit "$code")
verdict 'a gathered file stands alone' $?
same_plan 'a gathered file gives the same plan' "$out" whole.csv
(cd far && turnlay gather gathered.lay; exit "$code")
same 'gathering a gathered file changes nothing' "$out" far/gathered.lay
expect 0 'the name that gather had before' fold user.lay
same 'it prints the same' "$out" far/gathered.lay
holds 'and says the name of now' "$err" 'fold is now called gather'
expect 1 'gather of a bad file' gather bad.lay
empty 'gather of a bad file prints nothing' "$out"

turnlay plan --format json good.lay && cp "$out" good.json
turnlay plan --format json two.lay && cat good.json "$out" >both.json
expect 0 'plan of two files' plan --format json good.lay two.lay
same 'two files give one document after another' "$out" both.json
expect 1 'plan of a bad and a good file' plan --format json bad.lay good.lay
same 'the good file is planned all the same' "$out" good.json
expect 2 'check of a missing, a good and a bad file' check missing.lay good.lay bad.lay
holds 'the missing file is reported' "$err" 'missing.lay'
holds 'the bad file after it is still checked' "$out" 'T101'
