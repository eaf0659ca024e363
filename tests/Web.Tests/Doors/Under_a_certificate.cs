using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Whetwright.Web.Doors;
using Whetwright.Web.Serving;

namespace Whetwright.Web.Tests.Doors;

/// <summary>HTTPS by a certificate that was given.</summary>
public sealed class Under_a_certificate
{
    private static ServeOptions With(ServeOptions options, string url, string password = "invented", string given = "invented")
    {
        using RSA key = RSA.Create(2048);
        using X509Certificate2 certificate = new CertificateRequest("CN=shop.invented", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1).CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(30));
        string file = Path.Combine(options.DataFolder, "shop.pfx"), secret = Path.Combine(options.DataFolder, "shop.txt");
        File.WriteAllBytes(file, certificate.Export(X509ContentType.Pkcs12, password));
        File.WriteAllText(secret, given + "\n");
        return options with { Urls = [url], CertificateFile = file, CertificatePasswordFile = secret };
    }

    [Fact]
    public async Task Over_https_cookies_are_secure_and_the_browser_is_told_to_stay_there()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync(also: options => With(options, "https://0.0.0.0:0"));
        using HttpClient client = new(new SocketsHttpHandler { AllowAutoRedirect = false, SslOptions = new() { RemoteCertificateValidationCallback = (_, certificate, _, _) => certificate?.Subject == "CN=shop.invented" } })
        {
            BaseAddress = new Uri(opened.Shop.Address),
        };

        using HttpResponseMessage page = await client.GetAsync(new Uri("/sign-in", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage answer = await client.SendFormAsync("/sign-in", "/sign-in/passphrase", ("passphrase", OpenedShop.Passphrase));

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.NotEmpty(page.Headers.GetValues("Strict-Transport-Security"));
        string[] cookies = [.. page.Headers.GetValues("Set-Cookie"), .. answer.Headers.GetValues("Set-Cookie")];
        Assert.Contains(cookies, c => c.StartsWith("ww-device=", StringComparison.Ordinal));
        Assert.Contains(cookies, c => c.StartsWith("ww-form=", StringComparison.Ordinal));
        Assert.All(cookies, c =>
        {
            Assert.Contains("; secure", c, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("; httponly", c, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("; samesite=strict", c, StringComparison.OrdinalIgnoreCase);
        });
    }

    [Theory]
    [InlineData("http://0.0.0.0:0", "invented", "in the clear")]
    [InlineData("https://0.0.0.0:0", "another", "could not be opened")]
    public async Task A_certificate_is_not_bypassed(string url, string given, string says)
    {
        ServeRefusedException refused = await Assert.ThrowsAsync<ServeRefusedException>(() => OpenedShop.OpenAsync(also: options => With(options, url, given: given)));

        Assert.Contains(says, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_https_address_without_one_is_refused_with_what_to_do()
    {
        ServeRefusedException refused = await Assert.ThrowsAsync<ServeRefusedException>(() => OpenedShop.OpenAsync(also: options => options with { Urls = ["https://127.0.0.1:0"], AlwaysSignIn = true }));

        Assert.Contains("--certificate FILE.pfx", refused.Message, StringComparison.Ordinal);
    }
}
