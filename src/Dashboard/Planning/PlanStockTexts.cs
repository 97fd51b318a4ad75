using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Texts of the page of stock.</summary>
internal sealed record PlanStockTexts
{
    internal static TextFile<PlanStockTexts> File { get; } = new("PlanStock");

    internal static PlanStockTexts Now => File.Now;

    public required string Title { get; init; }
    public required string OrderHeading { get; init; }
    public required string FromSupplier { get; init; }
    public required string Rest { get; init; }
    public required string KeepHeading { get; init; }
    public required string Nothing { get; init; }
    public required StockTableTexts Table { get; init; }
    public required StockHelpTexts Help { get; init; }
    public required string Note { get; init; }
    public required string HowToTell { get; init; }
    public required string NoStockPoint { get; init; }
    public required StockFindingTexts Finding { get; init; }
    public required StockRowTexts Row { get; init; }
    public required StockOrderTexts Order { get; init; }
    public required StockRiskTexts Risk { get; init; }
}

internal sealed record StockTableTexts
{
    public required string Caption { get; init; }
    public required string Part { get; init; }
    public required string StockPoint { get; init; }
    public required string OrderNow { get; init; }
    public required string OnHand { get; init; }
    public required string Keep { get; init; }
    public required string Why { get; init; }
    public required string NoneNamed { get; init; }
    public required string NotTold { get; init; }
    public required string Sure { get; init; }
}

internal sealed record StockHelpTexts
{
    public required string Keep { get; init; }
    public required string Expected { get; init; }
    public required string ExpectedName { get; init; }
    public required string Last { get; init; }
    public required string LastName { get; init; }
}

internal sealed record StockFindingTexts
{
    public required string None { get; init; }
    public required string Enough { get; init; }
    public required PluralText Short { get; init; }
    public required PluralText Parts { get; init; }
    public required PluralText NoLeadTime { get; init; }
}

internal sealed record StockRowTexts
{
    public required string Cannot { get; init; }
    public required string Keep { get; init; }
    public required PluralText KeepPlanned { get; init; }
    public required string NotTold { get; init; }
    public required PluralText Order { get; init; }
    public required PluralText Enough { get; init; }
}

internal sealed record StockOrderTexts
{
    public required string Sentence { get; init; }
    public required PluralText Parts { get; init; }
    public required PluralText Numbers { get; init; }
    public required string NoPrice { get; init; }
    public required string About { get; init; }
    public required string AboutSome { get; init; }
    public required string AboutOwn { get; init; }
    public required string AboutOwnSome { get; init; }
}

internal sealed record StockRiskTexts
{
    public required PluralText There { get; init; }
    public required PluralText Wanted { get; init; }
    public required string NotTold { get; init; }
    public required PluralText Planned { get; init; }
    public required string Chance { get; init; }
}
