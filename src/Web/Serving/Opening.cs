using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Whetwright.Web.Doors;

namespace Whetwright.Web.Serving;

/// <summary>The shop cannot be served like this; the message says what to do.</summary>
public sealed class ServeRefusedException : Exception
{
    /// <summary>With what to do.</summary>
    public ServeRefusedException(string message)
        : base(message)
    {
    }

    /// <summary>With what to do and what led to it.</summary>
    public ServeRefusedException(string message, Exception inner)
        : base(message, inner)
    {
    }

    /// <summary>For the framework.</summary>
    public ServeRefusedException()
    {
    }
}

/// <summary>What must be right before the shop opens.</summary>
internal static class Opening
{
    /// <summary>A shop that others can reach has a master's passphrase, and its certificate is not bypassed.</summary>
    public static void Check(ServeOptions options)
    {
        if (options.AsksWho && !new DoorList(options.DataFolder, TimeProvider.System, new DoorLimits()).HasPassphrase)
            throw new ServeRefusedException(
                $"Others could reach this shop ({string.Join("; ", options.Urls)}), and it has no master's passphrase yet. Set one first: whetwright passphrase --data {options.DataFolder}");
        if (options.CertificateFile is not null && options.Urls.FirstOrDefault(u => ServeOptions.Plain(u).Scheme == "http" && !ServeOptions.IsLoopback(u)) is { } clear)
            throw new ServeRefusedException($"--urls: '{clear}' would carry sign-ins in the clear beside the certificate; https://… would be right");
        if (options.CertificateFile is null && options.Urls.FirstOrDefault(u => ServeOptions.Plain(u).Scheme == "https") is { } secret)
            throw new ServeRefusedException($"--urls: '{secret}' needs a certificate: --certificate FILE.pfx, with --certificate-password-file FILE where it has a password");
    }

    /// <summary>The certificate; null where none was given.</summary>
    public static X509Certificate2? Certificate(ServeOptions options)
    {
        if (options.CertificateFile is not { } file)
            return null;
        if (!File.Exists(file))
            throw new ServeRefusedException($"--certificate: there is no file '{file}'; a PKCS #12 file (.pfx, .p12) with certificate and key would be right");
        if (options.CertificatePasswordFile is { } missing && !File.Exists(missing))
            throw new ServeRefusedException($"--certificate-password-file: there is no file '{missing}'; a file whose first line is the password would be right");
        try
        {
            string? password = options.CertificatePasswordFile is { } from ? File.ReadLines(from).FirstOrDefault() : null;
            X509Certificate2 certificate = X509CertificateLoader.LoadPkcs12FromFile(file, password);
            return certificate.HasPrivateKey ? certificate : throw new ServeRefusedException($"--certificate: '{file}' has no private key; a PKCS #12 file with both would be right");
        }
        catch (CryptographicException e)
        {
            throw new ServeRefusedException($"--certificate: '{file}' could not be opened ({e.Message}); a PKCS #12 file and its right password in --certificate-password-file would be right", e);
        }
    }
}
