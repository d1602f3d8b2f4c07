# The shop file that the environment names.
mkdir empty && cp shop.json empty/mine.json && cd empty && TRUEUP_SHOP=mine.json trueup zero top --plate offcut --z -40.12 2>warnings | head -4
