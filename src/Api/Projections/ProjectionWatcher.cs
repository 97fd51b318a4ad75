using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Derives the projections of units again when the registry that they depend on has changed.</summary>
internal sealed class ProjectionWatcher : IRegistryWatcher
{
    /// <inheritdoc/>
    public Task ChangedAsync(RegistryChange change, RegistrySnapshot after, WriteSession session, CancellationToken cancellationToken)
    {
        int[] units =
        [
            .. after.UnitList
                .Where(unit => change.UnitIds.Contains(unit.Id) || change.ModelIds.Contains(unit.Model.Id) || change.SiteIds.Contains(unit.Site.Id))
                .Select(unit => unit.Id),
        ];
        if (units.Length > 0)
        {
            Projector.DeriveUnits(session, after, units);
        }

        Projector.DeriveCleaning(session, after);

        return Task.CompletedTask;
    }
}
