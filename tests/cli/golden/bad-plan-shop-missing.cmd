# No shop file is named, and none lies in this folder.
mkdir empty && cd empty && trueup plan corner left --plate offcut
