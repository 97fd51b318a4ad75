namespace Washwear.Api.Registry;

/// <summary>What a model must be like: its positions, programmes and faults fit each other.</summary>
internal static class ModelRules
{
    private const double MostMinutes = 7 * 24 * 60;
    private const double MostMoney = 1e9;
    private const double MostDoses = 1000;
    private const double MostWeight = 1e6;

    private static readonly string[] Hazards = ["electric", "water", "hot", "caustic", "gas", "compressed_gas", "moving"];

    public static void Check(ModelResource model, RuleBook book)
    {
        book.AddressCode("model", model.Model);
        book.Text("name", model.Name);
        book.Text("kind", model.Kind);
        book.NoneTwice("positions", model.Positions, position => position.Position, "position");
        book.NoneTwice("programmes", model.Programmes, programme => programme.Programme, "programme");
        book.NoneTwice("faults", model.Faults, fault => fault.Code, "code");
        HashSet<string> positions = new(model.Positions.Select(position => Codes.Key(position.Position)), StringComparer.Ordinal);
        bool IsPosition(string code) => positions.Contains(Codes.Key(code));

        for (int i = 0; i < model.Positions.Count; i++)
        {
            CheckPosition(model.Positions[i], book.At("positions", i), IsPosition);
        }

        for (int i = 0; i < model.Programmes.Count; i++)
        {
            CheckProgramme(model.Programmes[i], book.At("programmes", i));
        }

        for (int i = 0; i < model.Faults.Count; i++)
        {
            CheckFault(model.Faults[i], book.At("faults", i), IsPosition);
        }
    }

    private static void CheckPosition(PositionResource position, RuleBook book, Func<string, bool> isPosition)
    {
        book.AddressCode("position", position.Position);
        book.Text("name", position.Name);
        CheckCodes("failure_modes", position.FailureModes, book);
        CheckCodes("part_numbers", position.PartNumbers, book);
        CheckCodes("companions", position.Companions, book);
        for (int i = 0; i < (position.Companions?.Count ?? 0); i++)
        {
            book.Known(FormattableString.Invariant($"companions[{i}]"), position.Companions![i], "position", isPosition);
        }

        book.AboveZero("replace_minutes", position.ReplaceMinutes, MostMinutes);
        book.Between("part_cost", position.PartCost, 0, MostMoney);
        book.Between("planned_visit_cost", position.PlannedVisitCost, 0, MostMoney);
        book.Between("failure_cost", position.FailureCost, 0, MostMoney);
        PlanRules.CheapEnough("planned_visit_cost", position.PlannedVisitCost, position.FailureCost, book);
    }

    private static void CheckProgramme(ProgrammeResource programme, RuleBook book)
    {
        book.Code("programme", programme.Programme);
        book.AboveZero("minutes", programme.Minutes, MostMinutes);
        book.Between("detergent_doses", programme.DetergentDoses, 0, MostDoses);
    }

    private static void CheckFault(FaultResource fault, RuleBook book, Func<string, bool> isPosition)
    {
        book.Code("code", fault.Code);
        book.Text("text", fault.Text);
        for (int i = 0; i < (fault.Causes?.Count ?? 0); i++)
        {
            FaultCauseResource cause = fault.Causes![i];
            RuleBook place = book.At("causes", i);
            place.Known("position", cause.Position, "position", isPosition);
            place.Code("failure_mode", cause.FailureMode);
            place.Text("cause", cause.Cause);
            place.AboveZero("prior_weight", cause.PriorWeight, MostWeight);
        }

        IReadOnlyList<FaultCheckResource> checks = fault.Checks ?? [];
        book.NoneTwice("checks", checks, check => check.Check, "check");
        for (int i = 0; i < checks.Count; i++)
        {
            CheckStep(checks[i], book.At("checks", i), isPosition);
        }
    }

    private static void CheckStep(FaultCheckResource check, RuleBook book, Func<string, bool> isPosition)
    {
        book.Code("check", check.Check);
        book.Text("text", check.Text);
        book.AboveZero("minutes", check.Minutes, MostMinutes);
        for (int i = 0; i < check.Positions.Count; i++)
        {
            book.Known(FormattableString.Invariant($"positions[{i}]"), check.Positions[i], "position", isPosition);
        }

        book.Between("chance_of_missing", check.ChanceOfMissing, 0, 1);
        book.Between("chance_of_false_alarm", check.ChanceOfFalseAlarm, 0, 1);
        for (int i = 0; i < (check.Hazards?.Count ?? 0); i++)
        {
            book.OneOf(FormattableString.Invariant($"hazards[{i}]"), check.Hazards![i], Hazards);
        }
    }

    private static void CheckCodes(string list, IReadOnlyList<string>? codes, RuleBook book)
    {
        book.NoneTwice(list, codes ?? [], code => code, string.Empty);
        for (int i = 0; i < (codes?.Count ?? 0); i++)
        {
            book.Code(FormattableString.Invariant($"{list}[{i}]"), codes![i]);
        }
    }
}
