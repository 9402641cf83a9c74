using GardenWatch.Store;

namespace GardenWatch.Tests.Store;

public sealed class MountTableTests
{
    private const string Mounts =
        """
        /dev/sda1 / ext4 rw 0 0
        proc /proc proc rw 0 0
        nas:/volume /mnt/nas nfs4 rw 0 0
        /dev/sdb1 /mnt/nas/disk ext4 rw 0 0
        //nas/share /mnt/my\040share cifs rw 0 0
        over /mnt/hidden nfs rw 0 0
        tmpfs /mnt/hidden tmpfs rw 0 0
        """;

    [Theory]
    [InlineData("/var/lib/gardenwatch", null)]
    [InlineData("/mnt/nas/gardenwatch", "nfs4")]
    [InlineData("/mnt/nas", "nfs4")]
    [InlineData("/mnt/nasty", null)]
    [InlineData("/mnt/nas/disk/data", null)]
    [InlineData("/mnt/my share/data", "cifs")]
    [InlineData("/mnt/hidden/data", null)]
    public void The_mount_nearest_to_the_folder_decides(string path, string? type) =>
        Assert.Equal(type, MountTable.NetworkTypeOf(Mounts, path));
}
