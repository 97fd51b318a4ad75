using System.Data.Common;
using Dapper;
using DbUp.Engine;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests.Storage;

/// <summary>A connection that is lost while it commits: work is done once, whether the commit had reached the engine or not. The engine is a
/// real SQLite file whose connection is lost at will.</summary>
public sealed class LostCommitTests : IDisposable
{
    private const string Put = "INSERT INTO plan_terms (only, body) VALUES (1, 'x')";
    private const string Count = "SELECT count(*) FROM plan_terms";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("washwear-lost-");
    private readonly Settings _settings;
    private readonly LosingEngine _engine;
    private readonly Database _database;

    public LostCommitTests()
    {
        _settings = Settings.Load(new Dictionary<string, string> { ["database"] = Path.Combine(_folder.FullName, "washwear.db") });
        _engine = new LosingEngine(new SqliteEngine(_settings));
        _database = new Database(_settings, _engine);
        Migrator.Migrate(_database);
    }

    [Theory]
    [InlineData(new[] { Loss.AfterCommit }, 1)]
    [InlineData(new[] { Loss.BeforeCommit }, 2)]
    [InlineData(new[] { Loss.BeforeCommit, Loss.AfterCommit }, 2)]
    [InlineData(new[] { Loss.BeforeCommit, Loss.BeforeCommit, Loss.BeforeCommit }, 4)]
    internal async Task Work_is_done_once(Loss[] losses, int runs)
    {
        Array.ForEach(losses, _engine.Losses.Enqueue);
        int ran = 0;

        int result = await _database.WriteAsync(
            async session =>
            {
                ran++;
                await session.Connection.ExecuteAsync(session.Command(Put, null, CancellationToken.None));
                return 40 + ran;
            },
            CancellationToken.None);

        Assert.Equal(runs, ran);
        Assert.Equal(40 + runs, result);
        Assert.Equal(1, await CountAsync());
    }

    [Fact]
    public async Task What_is_lost_every_time_is_told_and_leaves_nothing()
    {
        Enumerable.Repeat(Loss.BeforeCommit, 10).ToList().ForEach(_engine.Losses.Enqueue);

        await Assert.ThrowsAsync<LostException>(() => _database.WriteAsync(
            session => session.Connection.ExecuteAsync(session.Command(Put, null, CancellationToken.None)), CancellationToken.None));

        Assert.Equal(0, await CountAsync());
        Assert.Equal(5, _engine.Losses.Count);
    }

    public void Dispose()
    {
        _database.Dispose();
        _folder.Delete(recursive: true);
    }

    private async Task<long> CountAsync()
    {
        await using DbConnection connection = await _database.OpenReadAsync(CancellationToken.None);
        return await connection.ExecuteScalarAsync<long>(Count);
    }

    internal enum Loss
    {
        BeforeCommit,
        AfterCommit,
    }

    private sealed class LostException() : DbException("The connection was lost.");

    private sealed class LosingEngine(SqliteEngine real) : Engine
    {
        public Queue<Loss> Losses { get; } = new();

        public override string Name => real.Name;

        public override string Place => real.Place;

        public override bool IsShared => true;

        public override bool Exists() => real.Exists();

        public override Task<DbConnection> OpenReadAsync(CancellationToken cancellationToken) => real.OpenReadAsync(cancellationToken);

        public override ScopedReads Within(DataScope scope) => real.Within(scope);

        public override Task<Writer> TakeWriterAsync(CancellationToken cancellationToken) => real.TakeWriterAsync(cancellationToken);

        public override ValueTask GiveBackAsync(Writer writer, bool isSound) => real.GiveBackAsync(writer, isSound);

        public override Task<DbTransaction> BeginWritingAsync(DbConnection connection, CancellationToken cancellationToken) =>
            real.BeginWritingAsync(connection, cancellationToken);

        public override async Task CommitAsync(DbTransaction transaction)
        {
            if (!Losses.TryDequeue(out Loss loss))
            {
                await real.CommitAsync(transaction);
                return;
            }

            if (loss == Loss.AfterCommit)
            {
                await real.CommitAsync(transaction);
            }

            throw new LostException();
        }

        public override bool MayTryAgain(DbException error) => error is LostException;

        public override void MakeReady() => real.MakeReady();

        public override UpgradeEngine Upgrade() => real.Upgrade();

        public override Task BackupAsync(string file, CancellationToken cancellationToken) => real.BackupAsync(file, cancellationToken);

        public override void LetGo() => real.LetGo();
    }
}
