using Washwear.Faults;
using Washwear.Faults.Backup;
using Washwear.Faults.Corrupt;
using Washwear.Faults.FullDisk;
using Washwear.Faults.Kill;
using Washwear.Faults.PowerCut;
using Washwear.Faults.ReadOnly;
using Washwear.Faults.SecondProcess;
using Washwear.Faults.Stop;

namespace Washwear.Api.Tests.Faults;

/// <summary>The short form of each fault of tests/Faults: the real program in a process of its own. The tool itself goes on for as long as it is told.</summary>
public sealed class FaultTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-fault-test-").FullName;
    private readonly Findings _findings = new();

    [Fact]
    public async Task Killed_while_records_come_in_it_keeps_what_it_acknowledged_and_nothing_by_halves()
    {
        await KillFault.RunAsync(Rounds(2), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(2, _findings["kills while records came in"]);
    }

    [Fact]
    public async Task Told_to_stop_it_answers_what_is_under_way_keeps_what_it_acknowledged_and_ends_in_time()
    {
        await StopFault.RunAsync(Rounds(2), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(2, _findings["stops under load"]);
        Assert.Equal(2, _findings["requests that ended after the signal and were answered 200"]);
    }

    [Fact]
    public async Task With_a_full_disk_it_says_so_loses_nothing_reads_on_and_goes_on_once_there_is_room()
    {
        await FullDiskFault.RunAsync(Rounds(1), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(1, _findings["times the disk was full"]);
    }

    [Fact]
    public async Task What_may_only_be_read_is_told_in_words_and_does_not_change()
    {
        await ReadOnlyFault.RunAsync(Rounds(1), _findings);

        Assert.Empty(_findings.Violations);
    }

    [Fact]
    public async Task Two_servers_commands_and_a_held_lock_leave_every_record_once()
    {
        await SecondProcessFault.RunAsync(Rounds(1), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(2, _findings["requests told 503 under a held lock"]);
    }

    [Fact]
    public async Task A_copy_of_one_moment_holds_all_that_was_acknowledged_and_a_torn_one_is_found_out()
    {
        await PowerCutFault.RunAsync(Rounds(4), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(1, _findings["copies of one moment: whole, all there"]);
    }

    [Fact]
    public async Task Check_finds_bytes_that_changed_and_salvage_gives_nothing_for_whole_that_is_not()
    {
        await CorruptFault.RunAsync(Rounds(5), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(2, _findings["salvages"] + _findings["salvages that could not open the file"]);
    }

    [Fact]
    public async Task A_backup_under_load_is_the_ledger_of_one_moment_and_the_way_back_loses_nothing_that_is_sent_again()
    {
        await BackupFault.RunAsync(Rounds(1), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(1, _findings["backups"]);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private FaultOptions Rounds(int count) => new(count, Seed: 11) { Folder = _folder };
}
