using System.Text;
using Microsoft.AspNetCore.Http;

namespace Whetwright.Web.Shared.Forms;

/// <summary>A table as CSV, UTF-8, bounded in bytes.</summary>
public sealed class CsvField(string name, string label) : FormField(name, label)
{
    /// <summary>Most bytes.</summary>
    public const int MaxBytes = 8 * 1024 * 1024;

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>The text; null where nothing was sent or it was refused.</summary>
    public string? Text { get; private set; }

    /// <inheritdoc/>
    protected override string Missing => "has no file; choose a CSV file";

    private protected override void Take(IFormCollection sent)
    {
        Text = null;
        Typed = "";
        if (sent.Files.GetFile(Name) is not { Length: > 0 } file)
            return;
        Typed = System.IO.Path.GetFileName(file.FileName);
        if (file.Length > MaxBytes)
        {
            Refuse($"'{Typed}' has {file.Length} bytes; a CSV file of at most {MaxBytes / 1024 / 1024} MB would be right");
            return;
        }

        try
        {
            using var reader = new StreamReader(file.OpenReadStream(), Strict);
            Text = reader.ReadToEnd();
        }
        catch (DecoderFallbackException)
        {
            Refuse($"'{Typed}' is not UTF-8 text; save the table as CSV in UTF-8");
        }
    }

    private protected override void Check()
    {
        if (Text?.Contains('\0', StringComparison.Ordinal) == true)
            Refuse($"'{Typed}' is not text; a CSV file would be right");
    }
}
