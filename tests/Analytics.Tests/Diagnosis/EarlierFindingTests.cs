using Washwear.Analytics.Diagnosis;

namespace Washwear.Analytics.Tests.Diagnosis;

/// <summary>Bayes' rule worked by hand: a finding is wrong in one of ten.</summary>
public sealed class EarlierFindingTests
{
    private static readonly CataloguedCause[] Catalogue =
        [new("pump", "seized", null, 1), new("pump", "weak-flow", null, 1), new("hose", "torn", null, 1)];

    private static readonly double[] Before = [0.4, 0.2, 0.3, 0.1];

    [Fact]
    public void A_finding_multiplies_what_it_names_by_nine_tenths_and_all_else_by_one_tenth() =>
        Equal([0.36 / 0.42, 0.02 / 0.42, 0.03 / 0.42, 0.01 / 0.42], After(new CauseFinding("PUMP", "seized")));

    [Fact]
    public void A_position_alone_names_all_its_causes_and_several_findings_name_all_of_theirs()
    {
        Equal([0.36 / 0.58, 0.18 / 0.58, 0.03 / 0.58, 0.01 / 0.58], After(new CauseFinding("pump")));
        Equal([0.36 / 0.66, 0.02 / 0.66, 0.27 / 0.66, 0.01 / 0.66], After(new CauseFinding("pump", "seized"), new CauseFinding("hose")));
    }

    [Fact]
    public void What_the_catalogue_does_not_know_is_something_else_and_nothing_found_changes_nothing()
    {
        Equal([0.04 / 0.18, 0.02 / 0.18, 0.03 / 0.18, 0.09 / 0.18], After(new CauseFinding("gasket")));
        Equal(Before, After());
    }

    [Fact]
    public void A_finding_that_is_never_wrong_or_counts_that_do_not_agree_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() =>
            EarlierFinding.After(Before, Catalogue, [new CauseFinding("pump")], new CauseOptions(FindingWrong: 0)));
        Assert.Throws<ArgumentException>(() => EarlierFinding.After([1], Catalogue, [new CauseFinding("pump")], CauseOptions.Usual));
    }

    private static IReadOnlyList<double> After(params CauseFinding[] findings) =>
        EarlierFinding.After(Before, Catalogue, findings, CauseOptions.Usual);

    private static void Equal(double[] expected, IReadOnlyList<double> actual)
    {
        Assert.Equal(expected.Length, actual.Count);
        Assert.All(expected.Zip(actual), pair => Assert.Equal(pair.First, pair.Second, 1e-12));
    }
}
