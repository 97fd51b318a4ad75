using Washwear.Faults;
using Washwear.Faults.FullDisk;
using Washwear.Faults.Kill;

namespace Washwear.Api.Tests.Faults;

/// <summary>The short form of each fault of tests/Faults: the real program in a process of its own. The tool itself goes on for as long as it is told.</summary>
public sealed class FaultTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-fault-test-").FullName;
    private readonly Findings _findings = new();

    [Fact]
    public async Task Killed_while_records_come_in_it_keeps_what_it_acknowledged_and_nothing_by_halves()
    {
        await KillFault.RunAsync(Rounds(3), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(3, _findings["kills while records came in"]);
    }

    [Fact]
    public async Task With_a_full_disk_it_says_so_loses_nothing_reads_on_and_goes_on_once_there_is_room()
    {
        await FullDiskFault.RunAsync(Rounds(1), _findings);

        Assert.Empty(_findings.Violations);
        Assert.Equal(1, _findings["times the disk was full"]);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private FaultOptions Rounds(int count) => new(count, Seed: 11) { Folder = _folder };
}
