# The pages behind the codes.
expect 0 'explain' explain T101
holds 'explain shows the code' "$out" 'T101'
cp "$out" page
expect 0 'explain in small letters' explain t101
same 'it is the same page' "$out" page
expect 0 'explain by the number alone' explain 101
same 'it is the same page, too' "$out" page
for word in TT101 1O1 0101 101x T T1011; do
    expect 2 "no code: $word" explain "$word"
done
expect 2 'a number that is no code' explain 999
expect 2 'a number that is near one' explain 100
holds 'codes near a number are named' "$err" 'T101'
expect 2 'an unknown code' explain T110x
holds 'codes near it are named' "$err" 'T110'
empty 'an unknown code prints nothing' "$out"
expect 2 'a code like no other' explain banana
holds 'the way to all codes is named' "$err" 'turnlay explain'
expect 2 'an empty code' explain ''
expect 0 'explain without a code' explain
grep -oE 'X\("T[0-9]+"' "$root/src/base/finding_table.h" | grep -oE 'T[0-9]+' >codes
cut -d ' ' -f 1 "$out" >listed
same 'all codes are listed, and nothing else' codes listed
missing=0
while read -r each; do
    "$TURNLAY" explain "$each" >"$out" 2>"$err"
    if [ "$?" != 0 ] || ! grep -q "$each" "$out" || [ "$(wc -l <"$out")" -le 3 ]; then
        missing=1
        echo "        no page for $each"
    fi
done <codes
verdict 'every code has a page' "$missing"
