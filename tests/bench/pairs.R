# Fits the spawnings of a file as pairs.c does: Rscript pairs.R FILE
# Prints the median of the seconds that fits take, and the log-likelihood that they reach.
if (!suppressWarnings(suppressMessages(require(lme4, quietly = TRUE)))) quit(status = 3)
spawnings <- read.csv(commandArgs(TRUE)[1], colClasses = c(rep("factor", 5), "numeric", "numeric"))
seconds <- numeric(3)
for (turn in seq_along(seconds))
  seconds[turn] <- system.time(
    fit <- glmer(cbind(kept, n - kept) ~ 0 + season + (1 | dam) + (1 | sire) + (1 | pair) +
                   (1 | spawning), spawnings, binomial))[["elapsed"]]
cat(sprintf("%.6f %.9f\n", median(seconds), as.numeric(logLik(fit))))
