# SPDX-License-Identifier: GPL-3.0-or-later
# The figures of `trueup trials` that R has ready, of the second column of a CSV; for tools/bench.
#
#     bench_trials.R FILE one-pass|all
#
# all: also those that take the values in order of size. scan is the fastest of base R's readers here.
# Kendall's test is left out: cor.test forms all pairs.
z <- scan(commandArgs(TRUE)[1], list(NULL, 0, NULL), sep = ",", skip = 1, quiet = TRUE)[[2]]
n <- length(z)
m <- mean(z)
s <- sd(z)
e <- z - m
mr <- mean(abs(diff(z)))
cat(n, m, s, range(z), diff(range(z)), sum(e[-1] * e[-n]) / sum(e^2),
    m + c(-1, 1) * qt(0.975, n - 1) * s / sqrt(n),
    s * sqrt((n - 1) / qchisq(c(0.975, 0.025), n - 1)), 1.96 * sqrt(2) * s, 4 * s,
    m + c(-3, 0, 3) * mr / 1.128, 3.267 * mr, "\n")
if (commandArgs(TRUE)[2] == "all") {
    ordered <- sort(z)
    below <- pnorm((ordered - m) / s)
    a <- -n - mean((2 * seq_len(n) - 1) * (log(below) + log(1 - rev(below))))
    cat(median(ordered), length(unique(z)), a * (1 + 0.75 / n + 2.25 / n^2), "\n")
}
