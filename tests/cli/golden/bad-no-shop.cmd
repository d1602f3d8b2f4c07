# No shop file is named, and none lies in this folder.
mkdir empty && cd empty && trueup zero front-left-top --x 100
