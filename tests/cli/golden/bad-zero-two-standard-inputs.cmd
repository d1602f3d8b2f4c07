trueup zero left --shop - --log -
