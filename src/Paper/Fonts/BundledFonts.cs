using PdfSharp.Drawing;
using PdfSharp.Fonts;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Fonts;

/// <summary>The bundled faces: read from the assembly, handed to the PDF library, which finds no font by itself.</summary>
internal sealed class BundledFonts : IFontResolver
{
    private static readonly Lock Gate = new();
    private static readonly BundledFonts Resolver = new();
    private static bool registered;

    /// <summary>Registers the faces with the PDF library, once.</summary>
    internal static void Register()
    {
        lock (Gate)
        {
            if (registered)
                return;
            GlobalFontSettings.FontResolver = Resolver;
            registered = true;
        }
    }

    internal static string FamilyName(TextFace face) =>
        face is TextFace.Condensed or TextFace.CondensedBold ? "DejaVu Sans Condensed" : "DejaVu Sans";

    internal static XFontStyleEx Style(TextFace face) =>
        face is TextFace.Bold or TextFace.CondensedBold ? XFontStyleEx.Bold : XFontStyleEx.Regular;

    internal static byte[] Bytes(TextFace face) => Bytes(FileName(face));

    /// <inheritdoc />
    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic)
    {
        bool condensed = familyName.EndsWith("Condensed", StringComparison.OrdinalIgnoreCase);
        TextFace face = (condensed, isBold) switch
        {
            (true, true) => TextFace.CondensedBold,
            (true, false) => TextFace.Condensed,
            (false, true) => TextFace.Bold,
            _ => TextFace.Regular,
        };
        return new FontResolverInfo(FileName(face));
    }

    /// <inheritdoc />
    public byte[] GetFont(string faceName) => Bytes(faceName);

    private static string FileName(TextFace face) => face switch
    {
        TextFace.Regular => "DejaVuSans.ttf",
        TextFace.Bold => "DejaVuSans-Bold.ttf",
        TextFace.Condensed => "DejaVuSansCondensed.ttf",
        TextFace.CondensedBold => "DejaVuSansCondensed-Bold.ttf",
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Not one of our faces."),
    };

    private static byte[] Bytes(string fileName)
    {
        using Stream stream = typeof(BundledFonts).Assembly.GetManifestResourceStream("Whetwright.Paper.Fonts." + fileName)
            ?? throw new InvalidOperationException("The font " + fileName + " is missing from the assembly.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
