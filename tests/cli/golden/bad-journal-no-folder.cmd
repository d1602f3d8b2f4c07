# The journal cannot be written: the answer stands, and the failure is said.
trueup shop change file journal=none/zeros.jsonl >said; trueup zero top --plate offcut --z -40.12 2>&1 >answer | tail -1; head -3 answer; trueup zero top --plate offcut --z -40.12 >answer 2>said
