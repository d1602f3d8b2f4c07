# SPDX-License-Identifier: GPL-3.0-or-later
# The figures of `trueup trials` that R has ready, of column z of a CSV; for tools/bench.
d <- read.csv(commandArgs(TRUE)[1], colClasses = c("numeric", "numeric", "character"))
z <- d$z
n <- length(z)
m <- mean(z)
s <- sd(z)
e <- z - m
mr <- mean(abs(diff(z)))
sorted <- pnorm((sort(z) - m) / s)
a <- -n - mean((2 * seq_len(n) - 1) * (log(sorted) + log(1 - rev(sorted))))
cat(n, m, median(z), s, range(z), sum(e[-1] * e[-n]) / sum(e^2),
    m + c(-1, 1) * qt(0.975, n - 1) * s / sqrt(n),
    s * sqrt((n - 1) / qchisq(c(0.975, 0.025), n - 1)),
    m + c(-3, 0, 3) * mr / 1.128, 3.267 * mr, a * (1 + 0.75 / n + 2.25 / n^2), "\n")
