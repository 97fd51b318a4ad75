using System.Globalization;
using Washwear.Faults.Served;

namespace Washwear.Faults.FullDisk;

/// <summary>A disk that can be filled up: a small mounted file system where that is permitted, else a limit on the size of files.</summary>
internal abstract class SmallDisk : IDisposable
{
    /// <summary>Where the database lies.</summary>
    public required string Folder { get; init; }

    /// <summary>How it is done, for people.</summary>
    public abstract string Way { get; }

    /// <summary>Makes one.</summary>
    /// <param name="folder">Folder that is made.</param>
    public static SmallDisk Make(string folder)
    {
        Directory.CreateDirectory(folder);
        return Shell.Try("mount", "-t", "tmpfs", "-o", "size=160m", "washwear-faults", folder)
            ? new Mounted { Folder = folder }
            : new Limited { Folder = folder };
    }

    /// <summary>Leaves no more room than this.</summary>
    /// <param name="bytes">Bytes that may still be written.</param>
    /// <param name="pid">The process that writes.</param>
    public abstract void Leave(long bytes, int pid);

    /// <summary>Makes room.</summary>
    /// <param name="pid">The process that writes.</param>
    public abstract void MakeRoom(int pid);

    /// <summary>Gives it back.</summary>
    public abstract void Dispose();

    private sealed class Mounted : SmallDisk
    {
        private string Ballast => Path.Combine(Folder, "ballast");

        public override string Way => "a tmpfs of 160 MiB (ENOSPC)";

        public override void Leave(long bytes, int pid)
        {
            long left = new DriveInfo(Folder).AvailableFreeSpace - bytes;
            Shell.Try("fallocate", "-l", Math.Max(1, left).ToString(CultureInfo.InvariantCulture), Ballast);
        }

        public override void MakeRoom(int pid) => File.Delete(Ballast);

        public override void Dispose()
        {
            if (!Shell.Try("umount", Folder))
            {
                Shell.Try("umount", "-l", Folder);
            }
        }
    }

    private sealed class Limited : SmallDisk
    {
        public override string Way => "a limit on the size of a file (EFBIG)";

        public override void Leave(long bytes, int pid)
        {
            long largest = Directory.EnumerateFiles(Folder).Max(file => new FileInfo(file).Length);
            Limit(pid, (largest + bytes).ToString(CultureInfo.InvariantCulture));
        }

        public override void MakeRoom(int pid) => Limit(pid, "unlimited");

        public override void Dispose()
        {
            // The limit ended with the process.
        }

        private static void Limit(int pid, string most)
        {
            if (!Shell.Try("prlimit", "--pid", pid.ToString(CultureInfo.InvariantCulture), $"--fsize={most}:unlimited"))
            {
                throw new InvalidOperationException("This machine lets neither a file system be mounted nor a process be limited.");
            }
        }
    }
}
