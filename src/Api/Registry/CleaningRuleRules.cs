namespace Washwear.Api.Registry;

/// <summary>What a cleaning rule must be like by itself.</summary>
internal static class CleaningRuleRules
{
    private const int MostWashes = 100_000;
    private const double MostOperatingHours = 1_000_000;
    private const double HardestWater = 2000;

    public static void Check(RuleResource rule, RuleBook book, KnownCodes known)
    {
        book.AddressCode("rule", rule.Rule);
        CheckScope(rule, book, known);
        CheckInterval(rule, book);
        CheckGrace(rule, book);
        book.Text("basis", rule.Basis);
        RegistryRules.CheckDate(book, "valid_from", rule.ValidFrom);
        RegistryRules.CheckDate(book, "valid_to", rule.ValidTo);
        book.InOrder<DateOnly>("valid_to", rule.ValidFrom, rule.ValidTo, "valid_from");
    }

    private static void CheckScope(RuleResource rule, RuleBook book, KnownCodes known)
    {
        (string Kind, string Code)[] scope = [.. KnownCodes.ReferredTo(rule)];
        foreach ((string kind, string code) in scope)
        {
            book.In("scope").Known(kind, code, kind, named => known.Has(kind, named));
        }

        if (scope.Length > 1)
        {
            book.Add("scope", "at_most_one", "A rule is for one operator, site, model or unit, or for all.", "Keep one field, or send {} for all.");
        }
    }

    private static void CheckInterval(RuleResource rule, RuleBook book)
    {
        (string Field, bool Given)[] intervals =
        [
            ("every_trading_days", rule.EveryTradingDays is not null),
            ("every_hours", rule.EveryHours is not null),
            ("every_washes", rule.EveryWashes is not null),
            ("every_operating_hours", rule.EveryOperatingHours is not null),
            ("every_washes_by_hardness", rule.EveryWashesByHardness is not null),
        ];
        if (intervals.Count(interval => interval.Given) != 1)
        {
            string[] given = [.. intervals.Where(interval => interval.Given).Select(interval => interval.Field)];
            book.Add(
                given.Length == 0 ? intervals[0].Field : given[0],
                "exactly_one",
                "Exactly one of " + string.Join(", ", intervals.Select(interval => interval.Field)) + " must be given; "
                    + (given.Length == 0 ? "none is." : string.Join(" and ", given) + " are."),
                "Give the one that the rule is written in and leave the others out; a second interval is a second rule.");
        }

        book.Between("every_trading_days", rule.EveryTradingDays, 1, 366);
        book.AboveZero("every_hours", rule.EveryHours, RegistryRules.MostHours);
        book.Between("every_washes", rule.EveryWashes, 1, MostWashes);
        book.AboveZero("every_operating_hours", rule.EveryOperatingHours, MostOperatingHours);
        CheckSteps(rule.EveryWashesByHardness, book);
    }

    private static void CheckSteps(IReadOnlyList<HardnessStepResource>? steps, RuleBook book)
    {
        if (steps is { Count: 0 })
        {
            book.Add("every_washes_by_hardness", "required", "There is no step in it.", "Give at least one, the last without up_to_mg_per_l.");
        }

        for (int i = 0; i < (steps?.Count ?? 0); i++)
        {
            RuleBook step = book.At("every_washes_by_hardness", i);
            step.AboveZero("up_to_mg_per_l", steps![i].UpToMgPerL, HardestWater);
            step.Between("washes", steps[i].Washes, 1, MostWashes);
            bool isLast = i == steps.Count - 1;
            if (isLast != steps[i].UpToMgPerL is null)
            {
                step.Add(
                    "up_to_mg_per_l",
                    "last_is_open",
                    isLast ? "Nothing is said about harder water." : "Only the last step may leave it out.",
                    isLast ? "Leave it out of the last step, or add a step without it." : "Give the hardest water that this step is for.");
            }
            else if (i > 0 && !isLast && steps[i].UpToMgPerL <= steps[i - 1].UpToMgPerL)
            {
                step.Add("up_to_mg_per_l", "order", "It is not harder than the step before.", "Put the steps in the order of hardness, each once.");
            }
        }
    }

    private static void CheckGrace(RuleResource rule, RuleBook book)
    {
        book.Between("grace_hours", rule.GraceHours, 0, RegistryRules.MostHours);
        if (rule.EveryHours is { } hours && hours > 0 && rule.GraceHours >= hours)
        {
            book.Add(
                "grace_hours",
                "shorter_than_interval",
                FormattableString.Invariant($"The grace ({rule.GraceHours} h) is as long as the interval ({hours} h), so two washes would be due at once."),
                "Give a grace shorter than every_hours.");
        }
    }
}
