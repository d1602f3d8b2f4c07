# A bore does without a cutter, and says that its check is off.
trueup zero back-left-top --shop shop.json --plate ring --x 200.10:221.92 --y 300.05:321.87
