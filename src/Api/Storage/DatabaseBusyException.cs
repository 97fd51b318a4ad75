using System.Data.Common;

namespace Washwear.Api.Storage;

/// <summary>Another process kept the turn to write for longer than the setting allows.</summary>
public sealed class DatabaseBusyException() : DbException("Another process keeps the database busy.");
