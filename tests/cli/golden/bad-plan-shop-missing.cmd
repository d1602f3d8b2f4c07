trueup plan corner left --plate offcut
