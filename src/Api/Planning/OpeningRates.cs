using Washwear.Api.PartLife;
using Washwear.Api.Registry;

namespace Washwear.Api.Planning;

/// <summary>How often a unit of a model is opened at a position: parts that were taken out there, against the years for which parts were in.</summary>
internal sealed class OpeningRates
{
    /// <summary>Days before the instant that are looked at.</summary>
    public const int Days = 730;

    private const double DaysPerYear = 365.25;

    private readonly Dictionary<(string Model, string Position), (int Openings, double Years)> _counted = [];

    private OpeningRates()
    {
    }

    /// <summary>Openings and the years that they are counted against.</summary>
    /// <param name="model">Code of the model.</param>
    /// <param name="position">Code of the position.</param>
    public (int Openings, double Years) Of(string model, string position) =>
        _counted.GetValueOrDefault((Codes.Key(model), Codes.Key(position)));

    /// <summary>Counts over the last two years.</summary>
    /// <param name="lives">All lives on record.</param>
    /// <param name="asOf">The instant.</param>
    public static OpeningRates Of(IReadOnlyList<FleetLife> lives, DateTimeOffset asOf)
    {
        var rates = new OpeningRates();
        DateTimeOffset from = asOf.AddDays(-Days);
        foreach (FleetLife life in lives.Where(life => life.FittedAt is not null))
        {
            DateTimeOffset begin = life.FittedAt > from ? life.FittedAt.Value : from;
            DateTimeOffset end = life.EndedAt < asOf ? life.EndedAt.Value : asOf;
            if (end <= begin)
            {
                continue;
            }

            (string, string) key = (Codes.Key(life.Unit.Model.Resource.Model), Codes.Key(life.Position));
            (int openings, double years) = rates._counted.GetValueOrDefault(key);
            bool opened = life.EndedHow is "failed" or "found_failed" or "precaution" or "upgrade";
            rates._counted[key] = (openings + (opened ? 1 : 0), years + ((end - begin).TotalDays / DaysPerYear));
        }

        return rates;
    }
}
