using System.Globalization;
using Microsoft.AspNetCore.Http;

namespace Whetwright.Web.Shared.Forms;

/// <summary>Photos from the phone's camera or its store: JPEG or PNG, bounded in bytes. Their pixels are bounded where they are decoded.</summary>
public sealed class PhotoField(string name, string label) : FormField(name, label)
{
    /// <summary>Most bytes of one photo.</summary>
    public const int MaxBytes = 24 * 1024 * 1024;

    /// <summary>Most bytes of one form with all its photos.</summary>
    public const int MaxFormBytes = 64 * 1024 * 1024;

    /// <summary>More than one may be sent.</summary>
    public bool Several { get; init; }

    /// <summary>Opens the camera at once on phones.</summary>
    public bool Camera { get; init; } = true;

    /// <summary>The files sent; they live as long as the request.</summary>
    public IReadOnlyList<IFormFile> Files { get; private set; } = [];

    /// <inheritdoc/>
    public override string Shown => Typed;

    /// <summary>The limit in words.</summary>
    public static string LimitWords => string.Create(CultureInfo.InvariantCulture, $"JPEG or PNG, up to {MaxBytes / 1024 / 1024} MB each");

    /// <inheritdoc/>
    protected override string Missing => "has no photo; take or choose one";

    private protected override void Take(IFormCollection sent)
    {
        Files = [.. sent.Files.GetFiles(Name).Where(f => f.Length > 0)];
        Typed = string.Join(", ", Files.Select(f => System.IO.Path.GetFileName(f.FileName)));
    }

    private protected override void Check()
    {
        if (!Several && Files.Count > 1)
            Refuse($"has {Files.Count} photos; one would be right");
        Span<byte> head = stackalloc byte[8];
        foreach (IFormFile file in Files)
        {
            string shown = System.IO.Path.GetFileName(file.FileName);
            if (file.Length > MaxBytes)
            {
                Refuse(string.Create(CultureInfo.InvariantCulture, $"'{shown}' has {file.Length / 1048576.0:0.0} MB; {LimitWords} would be right"));
                continue;
            }

            using Stream stream = file.OpenReadStream();
            int read = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
            bool jpeg = read >= 3 && head[0] == 0xFF && head[1] == 0xD8 && head[2] == 0xFF;
            bool png = read >= 8 && head.SequenceEqual((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
            if (!jpeg && !png)
                Refuse($"'{shown}' is not a JPEG or PNG photo; {LimitWords} would be right (set the camera to JPEG)");
        }
    }
}
