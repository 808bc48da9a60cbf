# Fades by eye with the turns that were chosen for them: gather --kept.
mkdir -p shop
cat >shop/dusk.lay <<'END'
edition 1
pattern dusk(from: thread, into: thread) { band 20 turns of from  fade to into steps: 4 by: eye  band 20 turns of into }
END
cat >eye.lay <<'END'
edition 1
use "shop/dusk"
thread navy { turns: 67 per cm, colour: #22346b }
thread mist { turns: 67 per cm, colour: #9db8d6 }
thread foam { turns: 67 per cm, colour: #dfe9ef }
blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }
rod "Eye" on tube {
    at 20 cm { dusk(navy, foam) }
    at 40 cm length: 60 mm { fade fill of [navy, mist, foam] over: 3 mm by: eye }
}
END
rows() { # FILE: runs of its plan, without where they stand in the source
    "$TURNLAY" plan --format csv "$1" 2>/dev/null | cut -d, -f1-17 | sed 's/,[^,]*$//'
}
expect 0 'gather --kept' gather --kept -o kept.lay eye.lay
lacks 'nothing is chosen in it any more' kept.lay 'by: eye'
holds 'the pattern of a used file is kept, too' kept.lay 'band 20 turns of from  fade to into runs: [in '
rows eye.lay | cut -d, -f1-15 >chosen.csv
rows kept.lay | cut -d, -f1-15 >kept.csv
[ -s chosen.csv ]
verdict 'the plan has rows' $?
same 'the turns are the same' chosen.csv kept.csv
expect 0 'it is sound' check -v kept.lay
lacks 'nothing is said to be chosen' "$out" T321
expect 0 'gather alone' gather eye.lay
holds 'keeps nothing' "$out" 'by: eye'
sed -i 's/at 20 cm { dusk(navy, foam) }/at 20 cm { dusk(navy, foam) }  at 30 cm { dusk(mist, foam) }/' eye.lay
expect 0 'gather --kept of a pattern that is laid with several shades' gather --kept -o kept.lay eye.lay
holds 'it stays by eye' kept.lay 'steps: 4 by: eye'
holds 'that is said' "$err" 'eye.lay: 1 fade is not kept and stays `by: eye`; `turnlay check -v eye.lay` says why (T321)'
expect 0 'and why' check -v eye.lay
holds 'in the finding' "$out" 'its turns are not the same wherever it is laid'
refuse 'to keep on a plan' plan --kept eye.lay
