# Makes the cases of statistics-mixed.json, reference numbers for packages/statistics/src/mixed, with lme4, lmerTest and numDeriv (Debian 12: R 4.2.2).
#
# Run: Rscript reference/statistics-mixed.R       prints the cases as JSON; the tables, the NIST sets and `players` stay as they are in the file.
#
# Data of Dyestuff, Dyestuff2, sleepstudy, Penicillin, Pastes are those shipped with lme4 (Davies & Goldsmith 1972; Belenky et al. 2003); the tables
# lies-*.csv and crossover.csv are invented, drawn from a seed. lme4's optimum is polished by Newton steps on the profiled criterion.
suppressPackageStartupMessages({library(lme4); library(lmerTest); library(numDeriv); library(jsonlite)})
here <- dirname(sub("--file=", "", grep("--file=", commandArgs(FALSE), value = TRUE)))
tables <- fromJSON(file.path(here, "statistics-mixed.json"))$tables
tight <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-11, maxfun = 1e5), check.conv.singular = "ignore", calc.derivs = FALSE)

polish <- function(formula, data) {
  m <- lme4::lmer(formula, data, control = tight)
  dev <- lme4::lmer(formula, data, devFunOnly = TRUE)
  th <- getME(m, "theta"); low <- getME(m, "lower")
  if (all(th > 1e-4 | low < 0)) for (i in 1:6) { st <- solve(hessian(dev, th), grad(dev, th)); if (max(abs(st)) > 0.05) break; th <- th - st; if (max(abs(st)) < 1e-9) break }
  th
}
one <- function(id, what, formula, data, contrasts = list(), file = NULL) {
  m <- lmerTest::lmer(formula, data, start = polish(formula, data),
    control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhobeg = 1e-7, rhoend = 1e-12), check.conv.singular = "ignore", calc.derivs = FALSE))
  V <- as.data.frame(VarCorr(m)); co <- coef(summary(m))
  out <- list(nObs = nobs(m), fixedNames = I(colnames(getME(m, "X"))), beta = I(unname(fixef(m))), se = I(unname(co[, "Std. Error"])),
    theta = I(unname(getME(m, "theta"))), sigma = sigma(m), remlCriterion = as.numeric(REMLcrit(m)),
    variances = lapply(seq_len(nrow(V)), function(i) list(group = V$grp[i], a = V$var1[i], b = V$var2[i], variance = V$vcov[i], sdOrCor = V$sdcor[i])),
    satterthwaiteDf = I(unname(co[, "df"])), p = I(unname(co[, "Pr(>|t|)"])),
    randomEffects = lapply(ranef(m), function(r) list(levels = rownames(r), columns = colnames(r), values = unname(as.matrix(r)[seq_len(min(nrow(r), 12)), , drop = FALSE]))))
  if (length(contrasts)) out$contrasts <- lapply(contrasts, function(L) { s <- lmerTest::contest1D(m, L)
    list(L = I(L), estimate = s[["Estimate"]], se = s[["Std. Error"]], satterthwaiteDf = s$df, p = s[["Pr(>|t|)"]]) })
  list(id = id, what = what, formula = deparse(formula), data = if (is.null(file)) lapply(as.list(data[, all.vars(formula)]), function(v) if (is.factor(v)) as.character(v) else v) else file, expected = out)
}
factors <- function(t, names) { t <- as.data.frame(t); for (v in names) t[[v]] <- factor(t[[v]]); t }
bal <- factors(tables[["lies-balanced.csv"]], c("player", "lie")); unb <- factors(tables[["lies-unbalanced.csv"]], c("player", "lie"))
cr <- factors(tables[["crossover.csv"]], c("player", "order", "condition", "period"))
cases <- list(
  one("dyestuff", "random intercept, balanced", Yield ~ 1 + (1 | Batch), Dyestuff, list(c(1))),
  one("dyestuff2", "variance between batches estimated as 0", Yield ~ 1 + (1 | Batch), Dyestuff2),
  one("sleepstudy-intercept", "random intercept", Reaction ~ Days + (1 | Subject), sleepstudy, list(c(0, 1))),
  one("sleepstudy-slope", "random intercept and slope, correlated", Reaction ~ Days + (Days | Subject), sleepstudy, list(c(0, 1))),
  one("sleepstudy-uncorrelated", "random intercept and slope, no correlation", Reaction ~ Days + (1 | Subject) + (0 + Days | Subject), sleepstudy, list(c(0, 1))),
  one("penicillin", "two crossed random factors", diameter ~ 1 + (1 | plate) + (1 | sample), Penicillin, list(c(1))),
  one("pastes", "nested random factors", strength ~ 1 + (1 | batch) + (1 | sample), Pastes, list(c(1))),
  one("lies-balanced", "players by lies, shots within", y ~ lie + (1 | player) + (1 | player:lie), bal, list(c(0, 1, 0), c(0, 0, 1), c(0, -1, 1)), "lies-balanced.csv"),
  one("lies-balanced-intercept", "the same without player by lie", y ~ lie + (1 | player), bal, list(c(0, 0, 1)), "lies-balanced.csv"),
  one("lies-unbalanced", "a third of the shots missing, one empty cell", y ~ lie + (1 | player) + (1 | player:lie), unb, list(c(0, 1, 0), c(0, 0, 1), c(0, -1, 1)), "lies-unbalanced.csv"),
  one("lies-unbalanced-trend", "with shot number", y ~ lie + shot + (1 | player) + (1 | player:lie), unb, list(c(0, 0, 0, 1)), "lies-unbalanced.csv"),
  one("crossover", "condition, period, shot number; player and player by condition", y ~ condition + period + shot + (1 | player) + (1 | player:condition), cr, list(c(0, 1, 0, 0), c(0, 0, 1, 0)), "crossover.csv"),
  one("crossover-carryover", "with order", y ~ condition + period + order + shot + (1 | player) + (1 | player:condition), cr, list(c(0, 0, 0, 1, 0)), "crossover.csv"))
cat(toJSON(cases, auto_unbox = TRUE, digits = 15, na = "null"), "\n")
